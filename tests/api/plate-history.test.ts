import supertest from 'supertest';
import { expect, it } from 'vitest';
import { historyReply } from '../../server/plates/history/routes.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { openedTrial } from '../support/opened-trial.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const bram = await signedInMember(house);
const wren = await signedInMember(house);
const odile = await signedInMember(house, 'steward');

it('tells all that happened to a plate, in its order, to who may see it', async () => {
  const kept = await api
    .post('/api/v1/plates')
    .set(bram.headers)
    .send({ name: 'Spacer', ...plateBody('tile-spacer-4up', { note: 'The first.' }) })
    .expect(201);
  const address = `/api/v1/plates/${kept.body.id}`;
  const later = () => house.clock.turn(1);
  const history = async (headers: typeof bram.headers) =>
    historyReply.decode((await api.get(`${address}/history`).set(headers).expect(200)).body);
  later();
  await clearPlate(house, { plateId: kept.body.id, through: 'fit' });
  later();
  await api
    .post(`${address}/revisions/1/rework`)
    .set(bram.headers)
    .send({ reason: 'Gate widened.' })
    .expect(201);
  later();
  await api
    .post(`${address}/damage`)
    .set(bram.headers)
    .send({ xMm: 1, yMm: 2, what: 'A scratch.' })
    .expect(201);
  later();
  await api.patch(address).set(bram.headers).send({ sharing: 'see', place: 'Rack A' }).expect(200);
  later();
  await api
    .post(`${address}/revisions`)
    .set(bram.headers)
    .send({ ...plateBody('tile-spacer-4up'), note: 'The second.' })
    .expect(201);
  later();
  await clearPlate(house, { plateId: kept.body.id, revision: 2 });
  const told = await history(wren.headers);
  expect(told.items.map(({ kind }) => kind)).toEqual([
    'plate-submitted',
    'clearance',
    'clearance',
    'damage-reported',
    'plate-shared',
    'plate-placed',
    'plate-revised',
    'clearance',
    'clearance',
    'clearance',
  ]);
  const [submitted, fit, reworked] = told.items;
  expect(submitted).toMatchObject({ who: bram.member.displayName, note: 'The first.' });
  expect(fit?.note).toContain('Thickness 16.00, 16.00, 16.00, 16.00 mm');
  expect(reworked?.note).toContain('Gate widened.');
  expect(told.items.at(-1)?.text).toContain('cleared for production: PP');
  const instants = told.items.map(({ at }) => at.getTime());
  expect(instants).toEqual(instants.toSorted((a, b) => a - b));
  expect(told.counts).toEqual({ bookings: 0, coming: 0, trials: 0, runs: 0 });
  await api.patch(address).set(bram.headers).send({ sharing: 'nobody' }).expect(200);
  await api.get(`${address}/history`).set(wren.headers).expect(404);
});

it('counts bookings and runs, and leads to a run only who may see it whole', async () => {
  const kept = await api
    .post('/api/v1/plates')
    .set(bram.headers)
    .send({ name: 'Tried', ...plateBody() })
    .expect(201);
  const plateId: string = kept.body.id;
  await api.patch(`/api/v1/plates/${plateId}`).set(bram.headers).send({ sharing: 'see' }).expect(200);
  await api.get(`/api/v1/plates/${plateId}/revisions/1/check?polymer=PP`).set(bram.headers).expect(200);
  await clearPlate(house, { plateId, through: 'fit' });
  const { runId } = await openedTrial(house, { memberId: bram.member.id, headers: bram.headers, plateId });
  const runOf = async (headers: typeof bram.headers) => {
    const reply = await api.get(`/api/v1/plates/${plateId}/history`).set(headers).expect(200);
    const { items, counts } = historyReply.decode(reply.body);
    expect(counts).toEqual({ bookings: 1, coming: 1, trials: 1, runs: 0 });
    return items.find(({ kind }) => kind === 'run');
  };
  expect(await runOf(bram.headers)).toMatchObject({ href: `/runs/${runId}`, who: bram.member.displayName });
  expect((await runOf(odile.headers))?.href).toBe(`/runs/${runId}`);
  const seen = await runOf(wren.headers);
  expect(seen?.href).toBeNull();
  expect(seen?.text).toContain('trial of revision 1 in PP');
  const visitor = visitorOf(house);
  await visitor.signIn(wren.member);
  const { text } = await visitor.get(`/plates/${plateId}/history`).expect(200);
  expect(text).toContain('led a trial of revision 1 in PP');
  expect(text).not.toContain(runId);
});
