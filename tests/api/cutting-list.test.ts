import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);
const tamsin = await signedInMember(house);

const { body: plate } = await api
  .post('/api/v1/plates')
  .set(wren.headers)
  .send({ name: 'Tile', ...plateBody() })
  .expect(201);
const path = `/api/v1/plates/${plate.id}/revisions/1/cutting-list`;

describe('a cutting list', () => {
  it('gives blank, holes from the datum and the feed, cutters and what to measure', async () => {
    const { body } = await api.get(path).set(wren.headers).expect(200);
    // 110 × 144 × 16 mm; 2.5 mm on each edge and 0.5 mm on each face; 2700 kg/m³.
    expect(body.blank).toEqual({ widthMm: 115, heightMm: 149, thicknessMm: 17 });
    expect(body.blankKg).toBeCloseTo(115 * 149 * 17 * 2.7e-6, 6);
    expect(body.holes).toHaveLength(4);
    expect(body.holes[0]).toMatchObject({
      fromDatum: { x: 95, y: 132 },
      fromFeed: { x: 40, y: 60 },
      drillMm: 6.6,
      series: 'medium',
      sink: { diameterMm: 11, depthMm: 7, drawn: false },
    });
    expect(body.cutters.at(-1)).toMatchObject({ cuts: [{ feature: 'vent', depthMm: 0.02 }] });
    expect(body.order.at(0)).toBe('face');
    expect(body.order).not.toContain('water');
    expect(body.notMachinable).toEqual([]);
  });

  it('opens with what is wrong in the metal, and says where the bores lie', async () => {
    const { body: pull } = await api
      .post('/api/v1/plates')
      .set(wren.headers)
      .send({ name: 'Pull', ...plateBody('drawer-pull') })
      .expect(201);
    const visitor = visitorOf(house);
    await visitor.signIn(wren.member);
    const { text } = await visitor.get(`/plates/${pull.id}/revisions/1/cutting-list`).expect(200);
    expect(text).toMatch(/Walls: cooling bore to back: no metal left\./);
    expect(text.indexOf('Walls: cooling bore')).toBeLessThan(text.indexOf('id="blank"'));
    expect(text).toContain('from the datum corner: x ');
    const { text: clear } = await visitor.get(`/plates/${plate.id}/revisions/1/cutting-list`).expect(200);
    expect(clear).not.toContain('Walls:');
  });

  it('is not there for who may not see the plate, nor for a revision there is none of', async () => {
    expect(codesOf(await api.get(path).set(tamsin.headers).expect(404))).toEqual(['not-found']);
    const other = path.replace('/1/', '/7/');
    expect(codesOf(await api.get(other).set(wren.headers).expect(404))).toEqual(['not-found']);
  });
});
