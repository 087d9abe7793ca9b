import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { problem } from '../../server/http/problem.js';
import { checkReportSchema } from '../../server/plates/check-report-schema.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody, sampleDxf, usualFacts } from '../support/plate-bodies.js';

const database = await testDatabase();
const house = await testHouse(database);
const { bolsterId, keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);

/** A whole request, with parts of the plate replaced. */
function checkOf(plate: object, more: object = {}) {
  return { plate: { ...plateBody(), ...plate }, resin: { polymer: 'PP' }, ...more };
}

async function check(body: unknown) {
  return api.post('/api/v1/checks').send(body as object);
}

async function rowsStored() {
  const [row] = await database.query<{ rows: number }>(
    `select (select count(*) from plate) + (select count(*) from plate_revision) + (select count(*) from plate_report)
       as rows`,
  );
  return row?.rows;
}

it('says what it did not look at, so that a clear is not taken for more', async () => {
  const { body, status } = await check(checkOf({ dxf: sampleDxf('no-vent') }));
  expect(status).toBe(200);
  const { notJudged } = checkReportSchema.parse(body);
  expect(notJudged).toEqual(['changing over from the resin before']);
});

describe('a field that nobody knows', () => {
  it.each<[string, object, string, string]>([
    [
      'near a known one',
      { plate: plateBody('tile-spacer-4up', { packerThickness: 2 }) },
      'plate.packerThickness',
      'packerThicknessMm',
    ],
    [
      'in the screw',
      { plate: { ...plateBody(), screw: { size: 'M6', lengthMm: 20, headSinkDepth: 7 } } },
      'plate.screw.headSinkDepth',
      'headSinkDepthMm',
    ],
    ['at the top', { plate: plateBody(), bolster: 'x' }, 'bolster', 'bolsterId'],
    ['near none', { plate: plateBody(), colour: 'red' }, 'colour', 'not known here'],
  ])('is refused by its name: %s', async (_what, more, field, says) => {
    const reply = await supertest(house.url)
      .post('/api/v1/checks')
      .send({ resin: { polymer: 'PP' }, ...more });
    expect(reply.status).toBe(400);
    const { reasons } = problem.parse(reply.body);
    expect(reasons.map((reason) => reason.field)).toEqual([field]);
    expect(reasons[0]?.message).toContain(says);
  });

  it('and a wrong one is told in words of ours', async () => {
    const reply = await supertest(house.url)
      .post('/api/v1/checks')
      .send({ resin: { polymer: 5 } });
    expect(reply.status).toBe(400);
    expect(JSON.stringify(reply.body)).not.toMatch(/Invalid|expected/);
    expect(problem.parse(reply.body).reasons.map(({ field }) => field)).toEqual(['plate', 'resin.polymer']);
  });
});

describe('a check before metal is cut', () => {
  it('is for anyone, on the mounted bolster, and stores nothing', async () => {
    const reply = await check(checkOf({}));
    expect(reply.status).toBe(200);
    const report = checkReportSchema.parse(reply.body);
    expect(report.verdict).toBe('clear');
    expect(report.bolster).toEqual({ id: bolsterId, version: 1 });
    expect(report.registration.fits).toBe(true);
    expect(report.polymer).toBe('PP');
    expect(await rowsStored()).toBe(0);
  });

  it.each([
    'tile-spacer-4up',
    'bolt-off-grid',
    'too-much-area',
    'off-centre-cavity',
    'head-sinks',
    'hive-spacer-inch',
    'no-units-decimal-comma-layers',
  ])('of %s has exactly what is documented', async (sample) => {
    const reply = await check(checkOf({ dxf: sampleDxf(sample) }));
    expect(reply.headers['content-type']).toBe('application/json; charset=utf-8');
    expect(checkReportSchema.parse(reply.body)).toEqual(reply.body);
  });

  it('is on the bolster that is named', async () => {
    const report = checkReportSchema.parse((await check(checkOf({}, { bolsterId: keyedBolsterId }))).body);
    expect(report.bolster.id).toBe(keyedBolsterId);
  });

  it('says stop where a bolt hole is off the grid, and how far to move it', async () => {
    const report = checkReportSchema.parse((await check(checkOf({ dxf: sampleDxf('bolt-off-grid') }))).body);
    const pattern = report.findings.find((finding) => finding.check === 'bolt-pattern');
    expect(report.verdict).toBe('stop');
    expect(pattern?.verdict).toBe('stop');
    expect(pattern?.cures[0]?.amount).toBeCloseTo(3, 1);
  });

  it('says stop where the stack is under the least daylight', async () => {
    const thin = checkOf({
      thicknessMm: 10,
      screw: { ...usualFacts.screw, lengthMm: 12, headSinkDepthMm: 6 },
    });
    const report = checkReportSchema.parse((await check(thin)).body);
    const daylight = report.findings.find((finding) => finding.check === 'daylight');
    expect(daylight).toMatchObject({ verdict: 'stop', figure: 10, margin: -2 });
  });

  it('knows a polymer by its symbol of ISO 1043 as well, in any case', async () => {
    const report = checkReportSchema.parse((await check(checkOf({}, { resin: { polymer: 'pe-hd' } }))).body);
    expect(report.polymer).toBe('HDPE');
  });
});

describe('a check is refused, with the field, and nothing stored', () => {
  it.each<[string, object, number, string, string | undefined]>([
    ['no thickness', checkOf({ thicknessMm: undefined }), 400, 'field-invalid', 'plate.thicknessMm'],
    ['thickness as text', checkOf({ thicknessMm: '16' }), 400, 'field-invalid', 'plate.thicknessMm'],
    ['thickness 0', checkOf({ thicknessMm: 0 }), 422, 'plate-facts-absurd', 'plate.thicknessMm'],
    ['thickness −3', checkOf({ thicknessMm: -3 }), 422, 'plate-facts-absurd', 'plate.thicknessMm'],
    ['thickness 1.99', checkOf({ thicknessMm: 1.99 }), 422, 'plate-facts-absurd', 'plate.thicknessMm'],
    ['thickness 200.1', checkOf({ thicknessMm: 200.1 }), 422, 'plate-facts-absurd', 'plate.thicknessMm'],
    ['thickness 1e300', checkOf({ thicknessMm: 1e300 }), 422, 'plate-facts-absurd', 'plate.thicknessMm'],
    ['packer −1', checkOf({ packerThicknessMm: -1 }), 422, 'plate-facts-absurd', 'plate.packerThicknessMm'],
    ['facing 500', checkOf({ facingThicknessMm: 500 }), 422, 'plate-facts-absurd', 'plate.facingThicknessMm'],
    [
      'a sink through the plate',
      checkOf({ screw: { ...usualFacts.screw, headSinkDepthMm: 16 } }),
      422,
      'plate-facts-absurd',
      'plate.screw.headSinkDepthMm',
    ],
    ['an alloy of its own', checkOf({ alloy: 'butter' }), 400, 'field-invalid', 'plate.alloy'],
    [
      'a screw that is none',
      checkOf({ screw: { ...usualFacts.screw, size: 'M7½' } }),
      422,
      'screw-unknown',
      'plate.screw.size',
    ],
    [
      'a polymer that is none',
      checkOf({}, { resin: { polymer: 'XX' } }),
      422,
      'polymer-unknown',
      'resin.polymer',
    ],
    ['no polymer', checkOf({}, { resin: {} }), 400, 'field-invalid', 'resin.polymer'],
    ['a sack', checkOf({}, { resin: { sackId: '1' } }), 400, 'field-invalid', 'resin.sackId'],
    ['a malformed bolster', checkOf({}, { bolsterId: 'bolster-1' }), 404, 'not-found', 'bolsterId'],
    [
      'a bolster that is none',
      checkOf({}, { bolsterId: '00000000-0000-4000-8000-000000000000' }),
      404,
      'not-found',
      'bolsterId',
    ],
    ['no plate', { resin: { polymer: 'PP' } }, 400, 'field-invalid', 'plate'],
    ['a list', [], 400, 'body-not-understood', undefined],
    ['a drawing that is none', checkOf({ dxf: 'hello' }), 422, 'drawing-not-dxf', undefined],
    ['an empty drawing', checkOf({ dxf: '' }), 422, 'drawing-empty', undefined],
    ['NUL in the drawing', checkOf({ dxf: '\u0000' }), 422, 'drawing-not-dxf', undefined],
  ])('%s', async (_what, body, status, code, field) => {
    const reply = await check(body);
    const { reasons } = problem.parse(reply.body);
    expect({ status: reply.status, code: reasons[0]?.code, field: reasons[0]?.field }).toEqual({
      status,
      code,
      field,
    });
    expect(await rowsStored()).toBe(0);
  });

  it('with every wrong figure at once', async () => {
    const reply = await check(checkOf({ thicknessMm: 0, packerThicknessMm: -2 }));
    const fields = problem.parse(reply.body).reasons.map(({ field }) => field);
    expect(fields).toEqual(['plate.thicknessMm', 'plate.packerThicknessMm', 'plate.screw.headSinkDepthMm']);
  });

  it('when the body is not JSON', async () => {
    const reply = await api.post('/api/v1/checks').set('content-type', 'application/json').send('{"plate":');
    expect(reply.status).toBe(400);
    expect(problem.parse(reply.body).reasons[0]?.code).toBe('body-not-understood');
  });

  it('when the drawing is over 8 MiB', async () => {
    const dxf = `${sampleDxf('tile-spacer-4up')}${' '.repeat(8 * 1024 * 1024)}`;
    const reply = await check(checkOf({ dxf }));
    expect(reply.status).toBe(413);
    expect(problem.parse(reply.body).reasons[0]?.code).toBe('drawing-too-large');
  });

  it('when the body is far over that', async () => {
    const reply = await check(checkOf({ dxf: ' '.repeat(20 * 1024 * 1024) }));
    expect(reply.status).toBe(413);
  });
});

describe('a stranger', () => {
  it('is told to wait after the limit, in drawings and checks together', async () => {
    const few = await testHouse(await testDatabase(), { settings: { signedOutChecksPerMinute: 3 } });
    const statuses: number[] = [];
    for (const path of ['drawings', 'checks', 'drawings', 'checks']) {
      statuses.push((await supertest(few.url).post(`/api/v1/${path}`).send({})).status);
    }
    expect(statuses).toEqual([400, 400, 400, 429]);
  });
});
