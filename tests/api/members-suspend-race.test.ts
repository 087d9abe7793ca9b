import { setTimeout as sleep } from 'node:timers/promises';
import supertest from 'supertest';
import { expect, it } from 'vitest';
import { transact } from '../../server/database/transaction.js';
import { memberHeld, setState } from '../../server/members/store.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { bearerOf, makeMember, signedInMember, type TestMember } from '../support/sign-in.js';
import { untilSomebodyWaits } from '../support/waiting.js';

const ROUNDS = 48;

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');

const signIn = (member: TestMember) =>
  bearerOf(house, member).then(
    () => 'signed in',
    () => 'turned away',
  );

async function sessionsOpen({ id }: TestMember): Promise<number> {
  return (await database.query('select from session where member_id = $1 and ended_at is null', [id])).length;
}

it('a member who is suspended while they sign in has no session they could come back to', async () => {
  const begun = performance.now();
  await signIn(await makeMember(house));
  const tookMs = performance.now() - begun;
  const seen: { [order: string]: number } = {};
  for (let round = 0; round < ROUNDS; round++) {
    const member = await makeMember(house);
    const signingIn = signIn(member);
    // From well before the password is looked at to well after: somewhere in between the two meet.
    await sleep((round / ROUNDS) * 1.5 * tookMs);
    const reply = await api
      .post(`/api/v1/members/${member.id}/suspension`)
      .set(admin.headers)
      .send({ reason: 'race' });
    expect(reply.status).toBe(200);
    const outcome = await signingIn;
    seen[outcome] = (seen[outcome] ?? 0) + 1;
    expect(await sessionsOpen(member), `round ${round}, ${outcome}`).toBe(0);
  }
  expect(Object.values(seen).reduce((sum, count) => sum + count, 0)).toBe(ROUNDS);
});

it('who signs in while a suspension is under way waits for it, and is turned away', async () => {
  const member = await makeMember(house);
  const signingIn = await transact(database, async (tx) => {
    await memberHeld(tx, member.id);
    const asking = signIn(member);
    await untilSomebodyWaits(database);
    await setState(tx, member.id, 'suspended');
    return { asking };
  });
  expect(await signingIn.asking).toBe('turned away');
  expect(await sessionsOpen(member)).toBe(0);
});
