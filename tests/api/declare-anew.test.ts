import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import type { Database } from '../../server/database/database.js';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { signOffReply } from '../../server/inductions/schemas.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const NOW = '2026-11-23T09:00:00Z';

type Headers = Record<string, string>;

/** A house in which somebody stewarded, and is suspended; with an admin who does not steward. */
async function leaderless() {
  const database = await testDatabase();
  const house = await testHouse(database, { at: NOW });
  const admin = await signedInMember(house, 'admin', []);
  const steward = await signedInMember(house, 'steward');
  await database.query(`update member set state = 'suspended' where id = $1`, [steward.member.id]);
  const declare = (headers: Headers, more: object = {}) =>
    supertest(house.url)
      .post('/api/v1/signoffs/declaration/anew')
      .set(headers)
      .send({ note: 'The last steward moved away.', eighteenOrOlder: true, ...more });
  return { database, house, admin, steward, declare };
}

async function refusedBy(database: Database, id: string, more: string = 'true') {
  const insert = `insert into sign_off (member_id, competence, version, signed_by, founding, anew, eighteen_or_older,
    signed_at, valid_until) values ($1, 'stewarding', 1, $1, true, ${more}, true, $2::timestamptz, $2 + interval '1 year')`;
  return database.query(insert, [id, new Date(NOW)]).then(
    () => undefined,
    (error: unknown) => pgFaultOf(error)?.constraint,
  );
}

describe('stewarding, declared anew', () => {
  it('lets an admin of a house without stewards sign others off again, marked for good and told to others', async () => {
    const { database, house, admin, declare } = await leaderless();
    const other = await signedInMember(house, 'admin', []);
    const made = signOffReply.decode((await declare(admin.headers).expect(201)).body);
    expect(made).toMatchObject({ competence: 'stewarding', founding: true, anew: true, state: 'standing' });
    const api = supertest(house.url);
    await api
      .post('/api/v1/signoffs')
      .set(admin.headers)
      .send({ memberId: other.member.id, competence: 'stewarding', note: 'Went through it together.' })
      .expect(201);
    const trail = await api.get(`/api/v1/trail?subjectKind=sign-off&subjectId=${made.id}`).set(other.headers);
    expect(trail.body.items[0].sentence).toContain('without a witness');
    const notices = await api.get('/api/v1/notices?unread=true').set(other.headers).expect(200);
    expect(notices.body.items).toContainEqual(expect.objectContaining({ kind: 'stewarding-declared-anew' }));
    const visitor = visitorOf(house);
    await visitor.signIn(other.member);
    const history = (await visitor.get(`/inductions/history/${admin.member.id}`).expect(200)).text;
    expect(history).toContain('declared anew, without a witness');
    expect(history).toContain('The last steward moved away.');
    expect(await database.query('select from sign_off where anew')).toHaveLength(1);
  });

  it.each([
    ['without a reason', { note: '' }, 400, 'field-invalid'],
    ['without the statement of age', { eighteenOrOlder: false }, 422, 'signoff-under-eighteen'],
    ['for anything else', { competence: 'press-operation' }, 400, 'field-invalid'],
  ])('is refused %s', async (_how, more, status, code) => {
    const { admin, declare } = await leaderless();
    const reply = await declare(admin.headers, more);
    expect([reply.status, codesOf(reply)]).toEqual([status, [code]]);
  });

  it('is for admins, and only while nobody who is here is signed off for stewarding', async () => {
    const { house, admin, steward, declare, database } = await leaderless();
    const member = await signedInMember(house, 'member', []);
    expect((await declare(member.headers)).status).toBe(403);
    await database.query(`update member set state = 'active', role = 'member' where id = $1`, [
      steward.member.id,
    ]);
    const reply = await declare(admin.headers);
    expect([reply.status, codesOf(reply)]).toEqual([409, ['steward-stands']]);
    expect(reply.body.reasons[0].message).toContain(steward.member.displayName);
    expect(reply.body.reasons[0].fix).toContain('give them that of a steward');
  });

  it('is not for a house whose founding declaration is open', async () => {
    const house = await testHouse(await testDatabase(), { at: NOW });
    const { headers } = await signedInMember(house, 'admin', []);
    const reply = await supertest(house.url)
      .post('/api/v1/signoffs/declaration/anew')
      .set(headers)
      .send({ note: 'Nobody yet.', eighteenOrOlder: true });
    expect(codesOf(reply)).toEqual(['founding-open']);
  });

  it('is made by one of two admins at the same moment', async () => {
    const ROUNDS = 6;
    for (let round = 0; round < ROUNDS; round++) {
      const { database, house, admin, declare } = await leaderless();
      const other = await signedInMember(house, 'admin', []);
      const replies = await Promise.all([declare(admin.headers), declare(other.headers)]);
      expect(replies.map(({ status }) => status).sort(), `round ${round}`).toEqual([201, 409]);
      expect(await database.query('select from sign_off where anew'), `round ${round}`).toHaveLength(1);
    }
  });

  it('has a sheet that is led to where it is open, and shows all that is missing', async () => {
    const { house, admin } = await leaderless();
    const visitor = visitorOf(house);
    await visitor.signIn(admin.member);
    expect((await visitor.get('/inductions').expect(200)).text).toContain('href="/inductions/declare-anew"');
    const path = '/inductions/declare-anew';
    const half = await visitor.fill(path, path, { note: '' });
    expect(half.status).toBe(422);
    expect(half.text).toContain('href="#note"');
    expect(half.text).toContain('href="#declared"');
    const done = await visitor.fill(path, path, { note: 'The last steward left.', declared: 'on' });
    expect([done.status, done.headers.location]).toEqual([303, `/inductions/history/${admin.member.id}`]);
    expect((await visitor.get('/inductions').expect(200)).text).not.toContain('declare-anew');
    expect((await visitor.fill(path, path, { note: 'Again.', declared: 'on' })).status).toBe(409);
  });
});

describe('whoever writes, the database lets nobody declare anew', () => {
  const CONSTRAINT = 'sign_off_anew_only_without_steward';

  it('who is no admin', async () => {
    const { database, house } = await leaderless();
    const { id } = await makeMember(house, 'steward', []);
    expect(await refusedBy(database, id)).toBe(CONSTRAINT);
  });

  it('while a sign-off for stewarding stands, and lets them when none does', async () => {
    const { database, admin, steward } = await leaderless();
    const state = (to: string) =>
      database.query('update member set state = $2 where id = $1', [steward.member.id, to]);
    await state('active');
    expect(await refusedBy(database, admin.member.id)).toBe(CONSTRAINT);
    await state('suspended');
    expect(await refusedBy(database, admin.member.id, 'false')).toBe('sign_off_founding_once');
    expect(await refusedBy(database, admin.member.id)).toBeUndefined();
  });

  it('for anything but stewarding, or as witnessed', async () => {
    const { database, admin } = await leaderless();
    const insert = `insert into sign_off (member_id, competence, version, signed_by, founding, anew, eighteen_or_older,
      signed_at, valid_until) values ($1, 'granulator', 1, $1, true, true, true, $2::timestamptz, $2 + interval '1 year')`;
    const fault = await database.query(insert, [admin.member.id, new Date(NOW)]).then(
      () => undefined,
      (error: unknown) => pgFaultOf(error)?.constraint,
    );
    expect(fault).toBe('sign_off_anew_for_stewarding');
  });
});
