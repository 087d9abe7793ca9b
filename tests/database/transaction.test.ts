import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { transact } from '../../server/database/transaction.js';
import { Refusal, refuse } from '../../server/reasons.js';
import { testDatabase } from '../support/database.js';

const database = await testDatabase();
await database.query(
  'create table tally (name text primary key, hits int not null constraint tally_positive check (hits > 0))',
);

const hitsOf = async (name: string) =>
  (await database.query<{ hits: number }>('select hits from tally where name = $1', [name]))[0]?.hits;

describe('transact', () => {
  it('commits what the work did and gives its result', async () => {
    const result = await transact(database, async (tx) => {
      await tx.query('insert into tally values ($1, $2)', ['kept', 1]);
      return 'done';
    });
    expect(result).toBe('done');
    expect(await hitsOf('kept')).toBe(1);
  });

  it('rolls back and hands on a refusal', async () => {
    const result = await transact(database, async (tx) => {
      await tx.query('insert into tally values ($1, $2)', ['refused', 1]);
      return refuse('press-taken');
    });
    expect(result).toBeInstanceOf(Refusal);
    expect(await hitsOf('refused')).toBeUndefined();
  });

  it('rolls back and rethrows what the work throws, and the connection stays good', async () => {
    const failing = transact(database, async (tx) => {
      await tx.query('insert into tally values ($1, $2)', ['thrown', 1]);
      throw new Error('no');
    });
    await expect(failing).rejects.toThrow('no');
    expect(await hitsOf('thrown')).toBeUndefined();
  });

  it('lets Prisma work in the same transaction: seen before the commit, gone with the rollback', async () => {
    const id = '6f1f2a39-7d53-4d0e-8f0c-5a1c31a3a001';
    const name = 'Press in a transaction';
    const seen = await transact(database, async (tx) => {
      await (await tx.prisma()).press.create({ data: { id, name } });
      const [row] = await tx.query<{ name: string }>('select name from press where id = $1', [id]);
      const outside = await database.prisma.press.findUnique({ where: { id } });
      return { inside: row?.name, outside };
    });
    expect(seen).toEqual({ inside: name, outside: null });
    expect((await database.prisma.press.findUnique({ where: { id } }))?.name).toBe(name);

    await transact(database, async (tx) => {
      await (await tx.prisma()).press.delete({ where: { id } });
      return refuse('not-allowed');
    });
    expect((await database.prisma.press.findUnique({ where: { id } }))?.name).toBe(name);
  });

  it('rolls back when Prisma in it fails, and tells the constraint', async () => {
    const id = '6f1f2a39-7d53-4d0e-8f0c-5a1c31a3a002';
    const failing = transact(database, async (tx) => {
      await tx.query('insert into tally values ($1, $2)', ['with prisma', 1]);
      await (await tx.prisma()).press.create({ data: { id, name: ' ' } });
    });
    const fault = await failing.catch(pgFaultOf);
    expect(fault).toEqual({ sqlState: '23514', constraint: 'press_name_length' });
    expect(await hitsOf('with prisma')).toBeUndefined();
  });

  it('runs the whole work again after a deadlock, and both end up counted', async () => {
    await database.query(`insert into tally values ('left', 1), ('right', 1)`);
    let runs = 0;
    let bothHold = () => {};
    const held = new Promise<void>((release) => {
      bothHold = release;
    });
    const addTo = (first: string, second: string) =>
      transact(database, async (tx) => {
        await tx.query('update tally set hits = hits + 1 where name = $1', [first]);
        runs += 1;
        if (runs === 2) bothHold();
        await held;
        await tx.query('update tally set hits = hits + 1 where name = $1', [second]);
      });
    await Promise.all([addTo('left', 'right'), addTo('right', 'left')]);
    // Each once, and once more for every time that one of them was the deadlock's victim.
    expect(runs).toBeGreaterThanOrEqual(3);
    expect([await hitsOf('left'), await hitsOf('right')]).toEqual([3, 3]);
  });

  it('runs the whole work again after a serialization failure that shows at commit', async () => {
    await database.query(`insert into tally values ('serial', 1)`);
    let runs = 0;
    await transact(database, async (tx) => {
      runs += 1;
      await tx.query('set transaction isolation level serializable');
      const [row] = await tx.query<{ hits: number }>(`select hits from tally where name = 'serial'`);
      if (runs === 1) await database.query(`update tally set hits = 10 where name = 'serial'`);
      await tx.query(`update tally set hits = $1 where name = 'serial'`, [(row?.hits ?? 0) + 1]);
    });
    expect(runs).toBe(2);
    expect(await hitsOf('serial')).toBe(11);
  });
});

describe('pgFaultOf', () => {
  const faultOf = (work: Promise<unknown>) => work.then(() => 'no fault', pgFaultOf);

  it.each([
    [
      'a check',
      `insert into tally values ('checked', 0)`,
      { sqlState: '23514', constraint: 'tally_positive' },
    ],
    ['a unique key', `insert into tally values ('kept', 1)`, { sqlState: '23505', constraint: 'tally_pkey' }],
    ['a NUL character', `select convert_from('\\x00', 'UTF8')`, { sqlState: '22021', constraint: undefined }],
    ['a malformed uuid', `select 'nonsense'::uuid`, { sqlState: '22P02', constraint: undefined }],
  ])('names %s, by statement and through Prisma', async (_what, sql, fault) => {
    expect(await faultOf(database.query(sql))).toEqual(fault);
    expect(await faultOf(database.prisma.$executeRawUnsafe(sql))).toEqual(fault);
  });

  it('is undefined for what is not PostgreSQL’s', () => {
    expect([new Error('x'), undefined, null, 'text', { meta: {} }].map(pgFaultOf)).toEqual(
      Array(5).fill(undefined),
    );
  });
});

describe('values from statements', () => {
  it('come as numbers, instants and parsed JSON', async () => {
    const [row] = await database.query(
      `select count(*) as n, 12.50::numeric(8, 2) as mm, '{"a": 1}'::jsonb as j,
         timestamptz '2026-03-29 03:30+02' as t, current_setting('TimeZone') as zone`,
    );
    expect(row).toEqual({ n: 1, mm: 12.5, j: { a: 1 }, t: new Date('2026-03-29T01:30:00Z'), zone: 'UTC' });
  });

  it('refuse an int8 that a number cannot hold', async () => {
    await expect(database.query('select 9007199254740993::int8 as n')).rejects.toThrow(RangeError);
  });
});
