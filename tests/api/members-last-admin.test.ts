import supertest from 'supertest';
import { beforeEach, describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { transact } from '../../server/database/transaction.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf } from '../support/requests.js';
import { bearerOf, makeMember, type TestMember } from '../support/sign-in.js';

const ROUNDS = 12;

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const [one, other] = [await makeMember(house, 'admin'), await makeMember(house, 'admin')];

type Headers = { readonly authorization: string };

const giveRole = (headers: Headers, id: string, role: string) =>
  api.put(`/api/v1/members/${id}/role`).set(headers).send({ role });

async function adminsLeft(): Promise<number> {
  const [row] = await database.query<{ count: number }>(
    `select count(*)::int as count from member where role = 'admin' and state = 'active'`,
  );
  return row?.count ?? 0;
}

async function bothAdmins(): Promise<void> {
  await database.query(`update member set role = 'admin', state = 'active' where id = any($1::uuid[])`, [
    [one.id, other.id],
  ]);
}

describe('the last admin', () => {
  beforeEach(bothAdmins);

  it('keeps the role, is not suspended and does not leave', async () => {
    const headers = await bearerOf(house, one);
    await giveRole(headers, other.id, 'member').expect(200);
    expect(codesOf(await giveRole(headers, one.id, 'steward').expect(409))).toEqual(['last-admin']);
    const leaving = await api.post(`/api/v1/members/${one.id}/leaving`).set(headers).expect(409);
    expect(codesOf(leaving)).toEqual(['last-admin']);
    expect(await adminsLeft()).toBe(1);
  });

  it('stays for plain SQL too', async () => {
    await database.query(`update member set role = 'member' where id = $1`, [other.id]);
    for (const change of [
      `role = 'member'`,
      `state = 'suspended'`,
      `state = 'left', left_at = now(), email = null, password_hash = null`,
    ]) {
      const error: unknown = await database
        .query(`update member set ${change} where id = $1`, [one.id])
        .catch((thrown: unknown) => thrown);
      expect(pgFaultOf(error)).toEqual({ sqlState: 'PS006', constraint: 'member_last_admin' });
    }
  });

  it('is one of two who step down in plain SQL at once', async () => {
    for (let round = 0; round < ROUNDS; round++) {
      await bothAdmins();
      const stepDown = ({ id }: TestMember) =>
        transact(database, async (tx) => {
          await tx.query(`update member set role = 'member' where id = $1`, [id]);
        }).then(
          () => 'stepped down',
          (error: unknown) => pgFaultOf(error)?.constraint,
        );
      const outcomes = await Promise.all([stepDown(one), stepDown(other)]);
      expect(outcomes.sort()).toEqual(['member_last_admin', 'stepped down']);
    }
  });
});

describe('two changes of the last two admins at once', () => {
  it.each([
    ['each takes the other’s role', (mine: TestMember) => (mine === one ? other : one)],
    ['each gives up their own', (mine: TestMember) => mine],
  ])('%s: one is done, the other is not', async (_name, target) => {
    for (let round = 0; round < ROUNDS; round++) {
      await bothAdmins();
      const [first, second] = [await bearerOf(house, one), await bearerOf(house, other)];
      const replies = await Promise.all([
        giveRole(first, target(one).id, 'member'),
        giveRole(second, target(other).id, 'member'),
      ]);
      const outcomes = replies.map((reply) => (reply.status === 200 ? 'done' : codesOf(reply)[0]));
      expect(
        outcomes.filter((outcome) => outcome === 'done'),
        `round ${round}: ${outcomes}`,
      ).toHaveLength(1);
      expect(['last-admin', 'session-ended', 'not-allowed', 'not-found']).toContain(
        outcomes.find((outcome) => outcome !== 'done'),
      );
      expect(await adminsLeft()).toBe(1);
    }
  });
});
