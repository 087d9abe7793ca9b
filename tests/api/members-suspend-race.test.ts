import supertest from 'supertest';
import { expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { bearerOf, makeMember, signedInMember, type TestMember } from '../support/sign-in.js';
import { inThisOrder } from '../support/waiting.js';

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');

const signIn = (member: TestMember) => () =>
  bearerOf(house, member).then(
    () => 'signed in',
    () => 'turned away',
  );

const suspend =
  ({ id }: TestMember) =>
  () =>
    api.post(`/api/v1/members/${id}/suspension`).set(admin.headers).send({ reason: 'race' }).expect(200);

async function sessionsOpen({ id }: TestMember): Promise<number> {
  return (await database.query('select from session where member_id = $1 and ended_at is null', [id])).length;
}

it('who signs in just before they are suspended has no session they could come back to', async () => {
  const member = await makeMember(house);
  const [outcome] = await inThisOrder(database, member.id, signIn(member), suspend(member));
  expect(outcome).toBe('signed in');
  expect(await sessionsOpen(member)).toBe(0);
});

it('who signs in while a suspension is under way waits for it, and is turned away', async () => {
  const member = await makeMember(house);
  const [, outcome] = await inThisOrder(database, member.id, suspend(member), signIn(member));
  expect(outcome).toBe('turned away');
  expect(await sessionsOpen(member)).toBe(0);
});
