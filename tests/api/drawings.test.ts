import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { problem } from '../../server/http/problem.js';
import { drawingReportSchema } from '../../server/plates/check-report-schema.js';
import { addBolster, addPress } from '../../server/press/add.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { demoBolster, demoPress } from '../support/gullwing.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { sampleDxf } from '../support/plate-bodies.js';

const house = await testHouse(await testDatabase(), { settings: { signedOutChecksPerMinute: 10_000 } });
const api = supertest(house.url);

const samplesFile = join(PROJECT_FOLDER, 'tests', 'samples', 'expected.json');
const expected = z
  .object({ files: z.record(z.string(), z.looseObject({ readable: z.boolean() })) })
  .loose()
  .parse(JSON.parse(readFileSync(samplesFile, 'utf8')));

describe('reading a drawing', () => {
  it('gives what it holds, measured', async () => {
    const reply = await api.post('/api/v1/drawings').send({ dxf: sampleDxf('hive-spacer-inch') });
    expect(reply.status).toBe(200);
    const drawing = drawingReportSchema.parse(reply.body);
    expect(drawing).toMatchObject({ units: 'inch', unitsAssumed: false });
    expect(drawing.cavities.length).toBeGreaterThan(0);
  });

  const names = Object.keys(expected.files);

  it.each(names.filter((name) => expected.files[name]?.readable === false))(
    'is refused with layer or place: %s',
    async (name) => {
      const reply = await api.post('/api/v1/drawings').send({ dxf: sampleDxf(name.replace('.dxf', '')) });
      expect(reply.status).toBe(422);
      const { reasons } = problem.parse(reply.body);
      expect(reasons.every(({ code }) => code.startsWith('drawing-'))).toBe(true);
      expect(reasons.every(({ fix, message }) => fix !== '' && message !== '')).toBe(true);
    },
  );

  it.each(names.filter((name) => expected.files[name]?.readable === true))('is read: %s', async (name) => {
    const reply = await api.post('/api/v1/drawings').send({ dxf: sampleDxf(name.replace('.dxf', '')) });
    expect(reply.status).toBe(200);
    expect(drawingReportSchema.parse(reply.body)).toEqual(reply.body);
  });

  it('takes a feed drawn as a point for the mounted sprue', async () => {
    const sprue = { ...demoBolster.sprue, partingFaceDiameterMm: 4.25 };
    const withPress = await testDatabase();
    const here = await testHouse(withPress);
    const pressId = await addPress(withPress, { name: 'Press', facts: demoPress, at: LONG_AGO });
    const facts = { ...demoBolster, sprue };
    await addBolster(withPress, { pressId, name: 'Grid', mounted: true, facts, at: LONG_AGO });
    const ask = (url: string) =>
      supertest(url)
        .post('/api/v1/drawings')
        .send({ dxf: sampleDxf('tiny-token') })
        .expect(200);
    expect((await ask(here.url)).body.feed.diameterMm).toBe(4.25);
    expect((await ask(house.url)).body.feed.diameterMm).toBe(3.5);
  });

  it.each<[string, object | string, number, string]>([
    ['no drawing', {}, 400, 'field-invalid'],
    ['a number', { dxf: 1 }, 400, 'field-invalid'],
    ['an empty text', { dxf: '' }, 422, 'drawing-empty'],
    ['something else', { dxf: '<html></html>' }, 422, 'drawing-not-dxf'],
  ])('is refused: %s', async (_what, body, status, code) => {
    const reply = await api.post('/api/v1/drawings').send(body);
    expect(reply.status).toBe(status);
    expect(problem.parse(reply.body).reasons[0]?.code).toBe(code);
  });

  it('answers a wrong method with what it takes', async () => {
    const reply = await api.get('/api/v1/drawings');
    expect(reply.status).toBe(405);
    expect(reply.headers.allow).toContain('POST');
  });
});
