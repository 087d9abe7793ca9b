import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { type CheckPool, type CheckPoolOptions, createCheckPool } from '../../server/plates/check-pool.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { Refusal } from '../../server/reasons.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../support/gullwing.js';
import { nestedArrays, spiralCavity, spiralPolyline } from '../support/hostile-drawings.js';

const pools: CheckPool[] = [];

afterEach(async () => {
  await Promise.all(pools.splice(0).map((pool) => pool.close()));
});

function poolWith(options: Partial<CheckPoolOptions> = {}): CheckPool {
  const pool = createCheckPool({ workers: 1, timeoutMs: 20_000, ...options });
  pools.push(pool);
  return pool;
}

function sample(name: string): Promise<Buffer> {
  return readFile(join(PROJECT_FOLDER, 'tests', 'samples', `${name}.dxf`));
}

const wren = { name: 'wren', member: true };

async function question(dxf: Uint8Array | string, polymer = 'PP') {
  const ground = { bolster: demoBolster, press: demoPress, rules: demoRules };
  return { dxf, facts: samplePlate, polymer, ...ground };
}

function codesOf(answer: unknown): readonly string[] {
  return answer instanceof Refusal ? answer.reasons.map(({ code }) => code) : [];
}

async function expectAlive(pool: CheckPool) {
  const answer = await pool.check(await question(await sample('tile-spacer-4up')), wren);
  expect(answer).toMatchObject({ check: { registration: { fits: true } } });
}

describe('the check pool', () => {
  it('checks a drawing in a worker', async () => {
    await expectAlive(poolWith());
  });

  it('measures a drawing alone', async () => {
    const json = await poolWith().measure(await sample('tiny-token'), 4.25, wren);
    if (json instanceof Refusal) throw new Error(codesOf(json).join());
    expect(JSON.parse(Buffer.from(json).toString())).toMatchObject({ feed: { diameterMm: 4.25 } });
  });

  it('turns a drawing away with its reasons, place and layer', async () => {
    const answer = await poolWith().check(await question(await sample('open-contour')), wren);
    expect(codesOf(answer)).toEqual(['drawing-contour-open']);
    expect((answer as Refusal).reasons[0].place).toMatchObject({ layer: 'CAVITY 3.5' });
  });

  it('knows no polymer that is not in the table', async () => {
    const answer = await poolWith().check(await question(await sample('tile-spacer-4up'), 'XYZ'), wren);
    expect(codesOf(answer)).toEqual(['polymer-unknown']);
  });

  it('puts down a worker that takes too long, and goes on', async () => {
    const pool = poolWith({ timeoutMs: 1500 });
    const hostile = await question(spiralCavity(199_000));
    expect(codesOf(await pool.check(hostile, wren))).toEqual(['check-took-too-long']);
    await expectAlive(pool);
  });

  it('counts the time of the work, not of the wait', async () => {
    const pool = poolWith({ timeoutMs: 1500 });
    const hostile = await question(spiralCavity(199_000));
    const asked = await question(await sample('tile-spacer-4up'));
    const answers = await Promise.all([
      pool.check(hostile, wren),
      pool.check(hostile, wren),
      pool.check(asked, wren),
    ]);
    expect(answers.map(codesOf)).toEqual([['check-took-too-long'], ['check-took-too-long'], []]);
  });

  it('survives a worker killed by memory', async () => {
    const pool = poolWith({ memoryMib: 48 });
    const hostile = await question(spiralCavity(199_000));
    expect(codesOf(await pool.check(hostile, wren))).toEqual(['check-took-too-long']);
    await expectAlive(pool);
  });

  it('answers blocks of arrays of arrays with a reason, and goes on', async () => {
    const pool = poolWith();
    const codes = codesOf(await pool.check(await question(nestedArrays(8)), wren));
    expect(codes).toHaveLength(1);
    await expectAlive(pool);
  });

  it.each([
    ['199,000 lines', spiralCavity(199_000)],
    ['a polyline of 400,000 corners', spiralPolyline(400_000)],
  ])('a spiral of %s gets an answer within the usual limits, and it goes on', async (_what, dxf) => {
    const pool = poolWith({ timeoutMs: 10_000 });
    const answer = await pool.check(await question(dxf), wren);
    if (answer instanceof Refusal) expect(codesOf(answer)[0]).toMatch(/^(check-took-too-long|drawing-)/);
    else expect(answer.drawing.cavities.length).toBeGreaterThan(0);
    await expectAlive(pool);
  });

  it('closes while a worker is busy; what was asked and what is asked later is told that it is busy', async () => {
    const pool = poolWith();
    const hostile = await question(spiralCavity(199_000));
    const asked = [pool.check(hostile, wren), pool.check(hostile, wren)];
    await pool.close();
    const answers = await Promise.all([...asked, pool.check(hostile, wren)]);
    expect(answers.map(codesOf)).toEqual([['service-busy'], ['service-busy'], ['service-busy']]);
  });

  it('says that it is busy when too many wait, and serves those that do', async () => {
    const pool = poolWith({ queueMax: 2 });
    const asked = await question(await sample('tile-spacer-4up'));
    const answers = await Promise.all(Array.from({ length: 8 }, () => pool.check(asked, wren)));
    const busy = answers.filter((answer) => answer instanceof Refusal);
    expect(busy.length).toBeGreaterThan(0);
    expect(answers.length - busy.length).toBeGreaterThanOrEqual(2);
    for (const answer of busy) expect(codesOf(answer)).toEqual(['service-busy']);
    await expectAlive(pool);
  });
});
