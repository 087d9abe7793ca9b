import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { PRE_USE_LINES } from '../../server/runs/pre-use.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { trialBookedNow } from '../support/opened-trial.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { sampleBody } from '../support/sample-plate.js';
import { makeMember, signedInMember, TEST_PASSWORD } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database, {
  at: '2026-11-23T09:00:00Z',
  settings: { sessionHours: 24 * 90, sessionIdleMinutes: 60 * 24 * 90 },
});
await furnishPress(database, house.clock.now());
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');
const steward = await signedInMember(house, 'steward');

const NEXT = '2026-12-01T09:00:00.000Z';

type Headers = { readonly authorization: string };

async function plateOf(headers: Headers): Promise<string> {
  const reply = await api
    .post('/api/v1/plates')
    .set(headers)
    .send(await sampleBody('tile-spacer-4up', 'Spacer'))
    .expect(201);
  await clearPlate(house, { plateId: reply.body.id });
  return reply.body.id;
}

async function booked(headers: Headers, plateId: string, day: number): Promise<string> {
  const at = (hour: number) => `2026-11-${day}T${hour}:00:00Z`;
  const reply = await api
    .post('/api/v1/bookings')
    .set({ ...headers, 'idempotency-key': `day ${day}` })
    .send({ plateId, revision: 1, polymer: 'PP', startsAt: at(12), endsAt: at(13) })
    .expect(201);
  return reply.body.id;
}

const booking = async (id: string) =>
  (await api.get(`/api/v1/bookings/${id}`).set(steward.headers).expect(200)).body;

describe('a member who leaves', () => {
  it('is forgotten, while what they did stays under a name that names nobody', async () => {
    const { member, headers } = await signedInMember(house);
    await api.patch('/api/v1/me').set(headers).send({ displayName: 'Sunniva Wetherby' }).expect(200);
    const plateId = await plateOf(headers);
    const past = await booked(headers, plateId, 24);
    house.clock.turn(2 * 24 * 60);
    const { body: session } = await api
      .post('/api/v1/session')
      .send({ email: member.email, password: TEST_PASSWORD })
      .expect(201);
    const again = { authorization: `Bearer ${session.token}` };
    const coming = await booked(again, plateId, 27);
    const reason = 'Sunniva Wetherby forgot the guard';
    await suspendOnce(member.id, reason);
    const { body: anew } = await api
      .post('/api/v1/session')
      .send({ email: member.email, password: TEST_PASSWORD });
    const leaving = { authorization: `Bearer ${anew.token}` };
    await api
      .post('/api/v1/session')
      .send({ email: member.email, password: 'mistyped by somebody' })
      .expect(401);

    await api.post('/api/v1/me/leaving').set(leaving).send({ password: TEST_PASSWORD }).expect(204);
    expect(await tablesThatName(['Wetherby', member.email])).toEqual([]);
    await api.get('/api/v1/me').set(leaving).expect(401);
    await api.post('/api/v1/session').send({ email: member.email, password: TEST_PASSWORD }).expect(401);
    const pseudonym = `Former member ${member.id.slice(0, 8)}`;
    expect(await booking(past)).toMatchObject({ displayName: pseudonym, status: 'booked' });
    expect(await booking(coming)).toMatchObject({ displayName: pseudonym, status: 'cancelled' });
    const { body: left } = await api.get(`/api/v1/members/${member.id}`).set(admin.headers).expect(200);
    expect(left).toMatchObject({
      displayName: pseudonym,
      email: null,
      state: 'left',
      suspensions: [{ reason: null }],
    });
    const trail = await database.query('select from audit_entry where actor_id = $1', [member.id]);
    expect(trail.length).toBeGreaterThan(4);
  });

  it('is named in nothing that others were told about them, nor in the answers kept for others', async () => {
    const { member, headers } = await signedInMember(house);
    const words = 'Corwin Ashby left the nozzle dripping';
    await api.patch('/api/v1/me').set(headers).send({ displayName: 'Corwin Ashby' }).expect(200);
    const bookingId = await booked(headers, await plateOf(headers), 30);
    await api
      .delete(`/api/v1/bookings/${bookingId}`)
      .set(steward.headers)
      .send({ reason: words })
      .expect(200);
    const signing = () =>
      api
        .post('/api/v1/signoffs')
        .set({ ...steward.headers, 'idempotency-key': 'of Corwin' })
        .send({ memberId: member.id, competence: 'granulator', note: words });
    await signing().expect(201);
    await database.query(
      `insert into notice (member_id, kind, about_id, figures, href, created_at)
       values ($1, 'booking-needs-attention', $2, $3, '/', $4)`,
      [admin.member.id, member.id, JSON.stringify({ reason: words, startsAt: NEXT }), house.clock.now()],
    );
    expect(await tablesThatName(['Ashby'])).toEqual([
      'booking',
      'idempotency_key',
      'member',
      'notice',
      'sign_off',
    ]);
    await api.post('/api/v1/me/leaving').set(headers).send({ password: TEST_PASSWORD }).expect(204);
    expect(await tablesThatName(['Ashby', member.email])).toEqual([]);
    const told = await database.query('select figures from notice where about_id = $1', [member.id]);
    expect(told).toEqual([{ figures: { startsAt: NEXT } }]);
    expect(await database.query('select from notice where member_id = $1', [member.id])).toEqual([]);
    expect((await booking(bookingId)).status).toBe('cancelled');
    const again = await signing();
    expect([again.status, codesOf(again)]).toEqual([409, ['answer-forgotten']]);
  });

  it('is no longer named where others typed their name as within call, nor as who told of a near miss', async () => {
    const leaver = await signedInMember(house);
    const name = 'Petronel Quill';
    await api.patch('/api/v1/me').set(leaver.headers).send({ displayName: name }).expect(200);
    await api
      .post('/api/v1/near-misses')
      .set({ ...leaver.headers, 'idempotency-key': 'hose' })
      .send({ place: 'Press', what: 'A hose burst.', hurt: 'nobody' })
      .expect(201);
    const runner = await signedInMember(house);
    const plateId = await plateOf(runner.headers);
    const bookingId = await trialBookedNow(house, { memberId: runner.member.id, plateId });
    const { body: run } = await api
      .post(`/api/v1/bookings/${bookingId}/run`)
      .set({ ...runner.headers, 'idempotency-key': 'opened' })
      .send({
        preUse: PRE_USE_LINES,
        withinCall: { name: ` ${name.toUpperCase()}` },
        attendedBy: steward.member.id,
      })
      .expect(201);
    const pseudonym = `Former member ${leaver.member.id.slice(0, 8)}`;
    const written = (text: string) =>
      database.query('update run set within_call_name = $2 where id = $1', [run.id, text]);
    await expect(written(pseudonym)).rejects.toMatchObject({ code: 'PS001', constraint: 'run_only_closed' });

    await api.post('/api/v1/me/leaving').set(leaver.headers).send({ password: TEST_PASSWORD }).expect(204);
    expect(await tablesThatName([name, name.toUpperCase(), leaver.member.email])).toEqual([]);
    const { body: kept } = await api.get(`/api/v1/runs/${run.id}`).set(runner.headers).expect(200);
    expect(kept).toMatchObject({ withinCall: pseudonym, closedAt: null });
    const { body: told } = await api.get('/api/v1/near-misses').set(steward.headers).expect(200);
    expect(told.items).toMatchObject([{ what: 'A hose burst.', reportedBy: pseudonym }]);
    await expect(written('Somebody else')).rejects.toMatchObject({ constraint: 'run_only_closed' });
  });

  it('is told of in the trail as who left, or whose account somebody closed', async () => {
    const own = await signedInMember(house);
    const other = await makeMember(house);
    await api.post('/api/v1/me/leaving').set(own.headers).send({ password: TEST_PASSWORD }).expect(204);
    await api.post(`/api/v1/members/${other.id}/leaving`).set(admin.headers).expect(200);
    const sentenceOf = async (id: string) => {
      const trail = await api.get(`/api/v1/trail?subjectKind=member&subjectId=${id}`).set(admin.headers);
      return trail.body.items.find(({ action }: { action: string }) => action === 'member-left').sentence;
    };
    expect(await sentenceOf(own.member.id)).toBe('left, and closed their own account');
    expect(await sentenceOf(other.id)).toBe(`closed the account of Former member ${other.id.slice(0, 8)}`);
  });

  it('gives the press back to others at once', async () => {
    const [leaver, other] = [await signedInMember(house), await signedInMember(house)];
    const id = await booked(leaver.headers, await plateOf(leaver.headers), 28);
    const plateId = await plateOf(other.headers);
    await api.post('/api/v1/me/leaving').set(leaver.headers).send({ password: TEST_PASSWORD }).expect(204);
    expect((await booking(id)).status).toBe('cancelled');
    await booked(other.headers, plateId, 28);
  });

  it('has to give the password', async () => {
    const { headers } = await signedInMember(house);
    const reply = await api.post('/api/v1/me/leaving').set(headers).send({ password: 'not the password' });
    expect([reply.status, codesOf(reply)]).toEqual([422, ['password-wrong']]);
    await api.get('/api/v1/me').set(headers).expect(200);
  });

  it('can be let go by an admin, not by a steward, and is left alone afterwards', async () => {
    const { member, headers } = await signedInMember(house);
    const letGo = (who: Headers) => api.post(`/api/v1/members/${member.id}/leaving`).set(who);
    await letGo(steward.headers).expect(403);
    await letGo(admin.headers).expect(200);
    await api.get('/api/v1/me').set(headers).expect(401);
    expect(codesOf(await letGo(admin.headers).expect(409))).toEqual(['member-left']);
    const role = await api
      .put(`/api/v1/members/${member.id}/role`)
      .set(admin.headers)
      .send({ role: 'admin' });
    expect(codesOf(role)).toEqual(['member-left']);
    await api.post(`/api/v1/members/${member.id}/password-reset`).set(admin.headers).expect(409);
  });

  it('can be invited anew with the same address, as somebody new', async () => {
    const { member, headers } = await signedInMember(house);
    await api.post('/api/v1/me/leaving').set(headers).send({ password: TEST_PASSWORD }).expect(204);
    const { body } = await api
      .post('/api/v1/invitations')
      .set(steward.headers)
      .send({ email: member.email, displayName: 'Back again' })
      .expect(201);
    const token = new URL(body.link).pathname.split('/').at(-1);
    const password = 'slate heron under wet roof';
    const joined = await api
      .post('/api/v1/invitations/use')
      .send({ token, displayName: 'Back again', password });
    expect(joined.status).toBe(201);
    expect(joined.body.id).not.toBe(member.id);
  });

  it('leaves by a sheet that says what happens', async () => {
    const member = await makeMember(house);
    const visitor = visitorOf(house);
    await visitor.signIn(member);
    expect((await visitor.fill('/account/leave', '/account/leave', { password: 'wrong' })).status).toBe(422);
    const gone = await visitor.fill('/account/leave', '/account/leave', { password: TEST_PASSWORD });
    expect([gone.status, gone.headers.location]).toEqual([303, '/sign-in?just=left']);
    await visitor.get('/account').expect(303);
  });

  it('can be let go from their sheet by an admin', async () => {
    const member = await makeMember(house);
    const visitor = visitorOf(house);
    await visitor.signIn(admin.member);
    const done = await visitor.fill(`/members/${member.id}/leave`, `/members/${member.id}/leave`);
    expect([done.status, done.headers.location]).toEqual([303, `/members/${member.id}?just=left`]);
    await visitor.get(`/members/${member.id}?just=left`).expect(200);
    await visitor.get(`/members/${member.id}/leave`).expect(409);
  });
});

async function suspendOnce(memberId: string, reason: string): Promise<void> {
  const suspension = `/api/v1/members/${memberId}/suspension`;
  await api.post(suspension).set(steward.headers).send({ reason }).expect(200);
  await api.delete(suspension).set(steward.headers).send({ reason }).expect(200);
}

/** Names of the tables that hold any of the words anywhere. */
async function tablesThatName(words: readonly string[]): Promise<readonly string[]> {
  const tables = await database.query<{ name: string }>(
    `select format('%I', tablename) as name from pg_tables where schemaname = 'public' order by 1`,
  );
  const found = await Promise.all(
    tables.map(async ({ name }) => {
      const rows = await database.query<{ text: string }>(`select to_jsonb(t)::text as text from ${name} t`);
      return rows.some(({ text }) => words.some((word) => text.includes(word))) ? [name] : [];
    }),
  );
  return found.flat();
}
