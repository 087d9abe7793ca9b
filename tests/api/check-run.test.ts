import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { problem } from '../../server/http/problem.js';
import { checkReportSchema } from '../../server/plates/check-report-schema.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody, sampleDxf } from '../support/plate-bodies.js';
import { formTokenOf } from '../support/requests.js';

const database = await testDatabase();
const house = await testHouse(database);
const { bolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);

function check(sample: string, run?: object) {
  return api
    .post('/api/v1/checks')
    .send({ plate: plateBody(sample), resin: { polymer: 'PP' }, bolsterId, ...(run && { run }) });
}

async function warmingOf(sample: string, run?: object) {
  const { body, status } = await check(sample, run);
  expect(status, JSON.stringify(body)).toBe(200);
  const { findings } = checkReportSchema.parse(body);
  const finding = findings.find((one) => one.check === 'plate-warming');
  if (finding === undefined) throw new Error('no plate-warming');
  return finding;
}

describe('a check for a run', () => {
  it('judges the plate after its shots, and without a number of them only gives minutes', async () => {
    const unknown = await warmingOf('board-counter-8up');
    expect(unknown).toMatchObject({ verdict: 'clear', limit: null });
    const few = await warmingOf('board-counter-8up', { shots: 10 });
    const many = await warmingOf('board-counter-8up', { shots: 500 });
    expect(few.limit).not.toBeNull();
    expect(few.figures.shots).toBe(10);
    expect(many.figure ?? NaN).toBeGreaterThan(few.figure ?? NaN);
  });

  it('says so where the chiller it asks for has no channels to run through', async () => {
    const finding = await warmingOf('board-counter-8up', { shots: 100, chiller: true });
    expect(finding.figures.chiller).toBe('no-channels');
    expect(finding.summary).toContain('no WATER channels');
  });

  it.each([[0], [-5], [1.5], [1_000_000], ['ten'], [null]])(
    '%j shots are refused at their field, in words of ours',
    async (shots) => {
      const { body, status } = await check('board-counter-8up', { shots });
      expect(status).toBe(400);
      const { reasons } = problem.parse(body);
      expect(reasons.map(({ field }) => field)).toEqual(['run.shots']);
      expect(JSON.stringify(reasons)).not.toMatch(/Invalid|expected|Too (big|small)/);
    },
  );

  it('a field of a run that nobody knows is refused by its name', async () => {
    const { body, status } = await check('board-counter-8up', { shot: 5 });
    expect(status).toBe(400);
    expect(problem.parse(body).reasons.map(({ field }) => field)).toEqual(['run.shot']);
  });
});

it('each figure comes with how it is worked out, with source and basis by line', async () => {
  const { body } = await check('board-counter-8up');
  const { findings } = checkReportSchema.parse(body);
  const force = findings.find((one) => one.check === 'clamp-force');
  expect(force?.working.map(({ text }) => text).join('\n')).toMatch(
    /F = p × A \/ 1000 = [\d.]+ MPa × [\d.]+ mm² \/ 1000 = [\d.]+ kN/,
  );
  for (const { source, basis } of findings.flatMap(({ working }) => working)) {
    expect(source).not.toBe('');
    expect(basis).not.toBe('');
  }
});

describe('the run on the page', () => {
  const agent = supertest.agent(house.url);
  const own = { origin: house.url, 'sec-fetch-site': 'same-origin' };
  const usual = { thicknessMm: '16', screw: 'M6', screwLengthMm: '20', bolsterId };
  const post = async (fields: { readonly [field: string]: string }) => {
    const _csrf = formTokenOf((await agent.get('/check').expect(200)).text);
    const dxf = Buffer.from(sampleDxf('drawer-pull'), 'latin1');
    const request = agent
      .post('/check')
      .set(own)
      .field({ _csrf, ...usual, ...fields });
    return request.attach('dxf', dxf, 'drawer-pull.dxf');
  };

  it('is kept in the form, judged and drawn', async () => {
    const { status, text } = await post({ shots: '40', chiller: '' });
    expect(status).toBe(200);
    expect(text).toMatch(/id="shots"[^>]*value="40"/);
    expect(text).toContain('ps-curve-picture');
    expect(text).toContain('after 40 shots the plate has');
    expect(text).toContain('How this is worked out');
  });

  it.each(['0', '1.5', '1000000', 'many'])('%s shots are told at the field, the fold open', async (shots) => {
    const { status, text } = await post({ shots });
    expect(status).toBe(422);
    expect(text).toContain('Give a whole number of shots from 1 to 100 000');
    expect(text).toMatch(/<details class="ps-fold" open>\s*<summary>The run/);
  });
});
