import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { MigrationRefused, migrate } from '../../server/database/migrate.js';
import { emptyDatabaseUrl } from '../support/database.js';

const FIRST = [
  '0001_sacks',
  'create table sack (grams int not null); insert into sack values (25000);',
] as const;
const SECOND = [
  '0002_weigh',
  `create function weigh() returns int language plpgsql as $$
   begin
     return (select sum(grams) from sack);
   end $$;
   create view weighed as select weigh() as grams;`,
] as const;
const BROKEN = ['0003_broken', 'create table half (n int); select nonsense;'] as const;

const folder = await mkdtemp(join(tmpdir(), 'platenshare-migrations-'));
afterAll(() => rm(folder, { recursive: true }));

let url: string;
beforeEach(async () => {
  url = await emptyDatabaseUrl();
});

async function folderWith(...migrations: readonly (readonly [name: string, sql: string])[]): Promise<string> {
  const own = await mkdtemp(join(folder, 'set-'));
  for (const [name, sql] of migrations) {
    await mkdir(join(own, name));
    await writeFile(join(own, name, 'migration.sql'), sql);
  }
  return own;
}

async function rowsOf(sql: string): Promise<unknown[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

const APPLIED = 'select name from schema_migration order by name';

describe('migrate', () => {
  it('applies what is missing, in order, functions whole, and nothing twice', async () => {
    expect(await migrate(url, await folderWith(FIRST))).toEqual([FIRST[0]]);
    const both = await folderWith(SECOND, FIRST);
    expect(await migrate(url, both)).toEqual([SECOND[0]]);
    expect(await migrate(url, both)).toEqual([]);
    expect(await rowsOf('select grams from weighed')).toEqual([{ grams: 25000 }]);
  });

  it('lets services that start together wait for one another', async () => {
    const both = await folderWith(FIRST, SECOND);
    const applied = await Promise.all(Array.from({ length: 6 }, () => migrate(url, both)));
    expect(applied.flat()).toEqual([FIRST[0], SECOND[0]]);
    expect(await rowsOf('select count(*)::int as n from sack')).toEqual([{ n: 1 }]);
  });

  it('takes a file whose line ends a checkout changed for the same', async () => {
    await migrate(url, await folderWith(FIRST, SECOND));
    const crlf = SECOND[1].replaceAll('\n', '\r\n');
    expect(await migrate(url, await folderWith(FIRST, [SECOND[0], crlf]))).toEqual([]);
  });

  it('undoes a migration that fails half way and keeps those before it', async () => {
    await expect(migrate(url, await folderWith(FIRST, BROKEN))).rejects.toThrow(
      'Migration 0003_broken failed and was undone.',
    );
    expect(await rowsOf(APPLIED)).toEqual([{ name: FIRST[0] }]);
    expect(await rowsOf(`select to_regclass('half') as half`)).toEqual([{ half: null }]);
  });

  it.each([
    ['an edited one', [[FIRST[0], `${FIRST[1]} -- other`], SECOND], /0001_sacks was edited/],
    ['one of a newer release', [FIRST], /0002_weigh, which this release does not know/],
    ['one put in between', [FIRST, ['0001_then', 'select 1'], SECOND], /0001_then comes before 0002_weigh/],
  ] as const)('refuses %s and changes nothing', async (_what, migrations, sentence) => {
    await migrate(url, await folderWith(FIRST, SECOND));
    const refused = migrate(url, await folderWith(...migrations, ['0009_next', 'create table next (n int)']));
    await expect(refused).rejects.toThrow(MigrationRefused);
    await expect(refused).rejects.toThrow(sentence);
    expect(await rowsOf(APPLIED)).toEqual([{ name: FIRST[0] }, { name: SECOND[0] }]);
  });
});
