import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from '@prisma/driver-adapter-utils';
import * as engineBindings from '@prisma/schema-engine-wasm/schema_engine_bg';
import pg from 'pg';
import { describe, expect, it } from 'vitest';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { testDatabaseUrl } from '../support/database.js';
import { run } from '../support/database-server.js';

const SCHEMA_FILE = join(PROJECT_FOLDER, 'prisma', 'schema.prisma');

const QUOTED_CHAR_OID = 18;
const TEXT_OID = 25;

/**
 * Prisma's adapter, taught PostgreSQL's one-byte "char", which the system catalogues use: the pool passes such
 * columns off as text, so that they are read at all, and the answer then calls them what they are.
 */
function catalogueAdapter(pool: pg.Pool): PrismaPg {
  const charColumns = new WeakMap<object, readonly number[]>();
  const sendQuery = pool.query.bind(pool) as (query: pg.QueryConfig) => Promise<pg.QueryArrayResult>;
  const query = async (config: pg.QueryConfig) => {
    const result = await sendQuery(config);
    const places = result.fields.flatMap(({ dataTypeID }, place) =>
      dataTypeID === QUOTED_CHAR_OID ? [place] : [],
    );
    for (const place of places) Object.assign(result.fields[place] ?? {}, { dataTypeID: TEXT_OID });
    charColumns.set(result.rows, places);
    return result;
  };
  const factory = new PrismaPg(Object.assign(pool, { query }));
  const connect = factory.connect.bind(factory);
  factory.connect = async () => {
    const adapter = await connect();
    const queryRaw = adapter.queryRaw.bind(adapter);
    adapter.queryRaw = async (sql) => {
      const answer = await queryRaw(sql);
      for (const place of charColumns.get(answer.rows) ?? []) {
        answer.columnTypes[place] = ColumnTypeEnum.Character;
      }
      return answer;
    };
    return adapter;
  };
  return factory;
}

/** The compiler knows this global of every JavaScript engine only together with a browser's. */
declare const WebAssembly: {
  instantiate(
    bytes: Uint8Array,
    imports: Record<string, object>,
  ): Promise<{ instance: { exports: Record<string, () => void> } }>;
};

/** Prisma's schema engine as WebAssembly: the command line's native one would have to be downloaded. */
async function loadSchemaEngine(): Promise<typeof engineBindings.SchemaEngine> {
  const file = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm/schema_engine_bg');
  const { instance } = await WebAssembly.instantiate(await readFile(file.replace(/\.js$/, '.wasm')), {
    './schema_engine_bg.js': { ...engineBindings },
  });
  engineBindings.__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start?.();
  return engineBindings.SchemaEngine;
}

const SchemaEngine = await loadSchemaEngine();

/** What Prisma would change in the database to make it what schema.prisma says, in its own words. */
async function differences(databaseUrl: string): Promise<string> {
  const schema = { path: SCHEMA_FILE, content: await readFile(SCHEMA_FILE, 'utf8') };
  const pool = new pg.Pool({ connectionString: databaseUrl, options: '-c TimeZone=UTC' });
  const engine = await SchemaEngine.new(
    { datamodels: [[schema.path, schema.content]] },
    () => {},
    bindMigrationAwareSqlAdapterFactory(catalogueAdapter(pool)),
  );
  try {
    const { stdout } = await engine.diff({
      from: { tag: 'schemaDatasource', files: [schema], configDir: PROJECT_FOLDER },
      to: { tag: 'schemaDatamodel', files: [schema] },
      script: false,
      exitCode: null,
      filters: { externalTables: ['public.schema_migration'], externalEnums: [] },
    });
    return (stdout ?? '').trim();
  } finally {
    engine.free();
    await pool.end();
  }
}

describe('schema.prisma', () => {
  it('says what the migrations make', async () => {
    expect(await differences(await testDatabaseUrl())).toBe('No difference detected.');
  });

  it.each([
    ['a column more', 'alter table member add column nickname text', 'Removed column `nickname`'],
    [
      'a column that may be empty',
      'alter table plate alter column name drop not null',
      '`name` (changed from Nullable to Required)',
    ],
    ['another type', 'alter table booking alter column shots type bigint', '`shots` (type changed)'],
    ['an index less', 'drop index booking_of_press', 'Added index on columns (press_id, starts_at, id)'],
    [
      'a reference less',
      'alter table plate drop constraint plate_owner',
      'Added foreign key on columns (owner_id)',
    ],
    ['a table more', 'create table stray (id int primary key)', 'stray'],
  ])('is told apart from a database with %s', async (_what, drift, told) => {
    const url = await testDatabaseUrl();
    await run(url, drift);
    expect(await differences(url)).toContain(told);
  });
});
