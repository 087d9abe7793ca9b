import supertest from 'supertest';
import { expect, it } from 'vitest';
import { nearMissesReply, nearMissReply } from '../../server/runs/near-misses/schemas.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const wren = await signedInMember(house, 'member', []);
const odile = await signedInMember(house, 'steward');
const BURST = { place: 'Press', what: 'A hose burst.', hurt: 'first-aid' };

const tell = (body: object, headers = wren.headers) =>
  api.post('/api/v1/near-misses').set(headers).send(body);

it('is told by anybody, seen by who told it and by stewards, and answered once', async () => {
  const { id } = nearMissReply.decode((await tell(BURST).expect(201)).body);
  const address = `/api/v1/near-misses/${id}`;
  const other = await signedInMember(house);
  await api.get(address).set(other.headers).expect(404);
  expect((await api.get(address).set(odile.headers).expect(200)).body).toMatchObject({
    ...BURST,
    reportedBy: wren.member.displayName,
    done: null,
  });
  const told = await database.query(`select kind, figures from notice where member_id = $1 and href = $2`, [
    odile.member.id,
    `/near-misses/${id}`,
  ]);
  expect(told).toEqual([{ kind: 'near-miss-reported', figures: { hurt: 'first-aid' } }]);
  const answer = (headers: typeof wren.headers) =>
    api.post(`${address}/answer`).set(headers).send({ done: 'The hose is new.' });
  await answer(wren.headers).expect(403);
  await answer(other.headers).expect(404);
  await answer(odile.headers).expect(201);
  expect(codesOf(await answer(odile.headers).expect(409))).toEqual(['near-miss-answered']);
  const [kind] = await database.query(`select kind from notice where member_id = $1`, [wren.member.id]);
  expect(kind).toEqual({ kind: 'near-miss-answered' });
  const list = async (headers: typeof wren.headers) =>
    nearMissesReply.decode((await api.get('/api/v1/near-misses').set(headers).expect(200)).body).items;
  expect((await list(wren.headers)).map((one) => one.id)).toEqual([id]);
  expect(await list(other.headers)).toEqual([]);
  expect((await list(odile.headers))[0]?.done).toBe('The hose is new.');
});

it('says what happened, where, and whether anybody was hurt; not what is to come', async () => {
  const later = new Date(house.clock.now().getTime() + 60_000);
  for (const body of [
    { ...BURST, what: ' ' },
    { ...BURST, place: undefined },
    { ...BURST, hurt: 'perhaps' },
    { ...BURST, happenedAt: later },
    { ...BURST, guilty: 'Bram' },
  ]) {
    const reply = await tell(body).expect(400);
    expect(codesOf(reply)).toEqual(['field-invalid']);
  }
});
