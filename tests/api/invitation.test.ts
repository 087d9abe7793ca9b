import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const DAY_MINUTES = 24 * 60;
const PASSWORD = 'slate heron under wet roof';

const database = await testDatabase();
const house = await testHouse(database, {
  settings: { sessionHours: 24 * 90, sessionIdleMinutes: 60 * 24 * 90 },
});
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');
const steward = await signedInMember(house, 'steward');

type Headers = { readonly authorization: string };

let invited = 0;

async function invite(headers: Headers = steward.headers, more: object = {}) {
  invited += 1;
  const email = `invited-${invited}@gullwing.example`;
  const reply = await api
    .post('/api/v1/invitations')
    .set(headers)
    .send({ email, displayName: `Invited ${invited}`, ...more });
  return { reply, email, token: reply.status === 201 ? tokenOf(reply.body.link) : '' };
}

function tokenOf(link: string): string {
  const { origin, pathname } = new URL(link);
  expect(origin).toBe(house.url);
  return pathname.split('/').at(-1) ?? '';
}

const join = (token: string, more: object = {}) =>
  api.post('/api/v1/invitations/use').send({ token, displayName: 'Nuria', password: PASSWORD, ...more });

describe('an invitation', () => {
  it('makes a member of who holds its link, and tells the trail', async () => {
    const { reply, email, token } = await invite();
    expect(reply.status).toBe(201);
    const joined = await join(token).expect(201);
    expect(joined.body.email).toBe(email);
    const session = await api.post('/api/v1/session').send({ email, password: PASSWORD }).expect(201);
    expect(session.body.member).toMatchObject({ email, displayName: 'Nuria', role: 'member' });
    const trail = await database.query<{ action: string; actor: string }>(
      `select action, actor_id as actor from audit_entry where subject_id = any($1::text[]) order by id`,
      [[reply.body.id, joined.body.id]],
    );
    expect(trail).toMatchObject([
      { action: 'member-invited', actor: steward.member.id },
      { action: 'member-joined', actor: joined.body.id },
      { action: 'signed-in', actor: joined.body.id },
    ]);
  });

  it('keeps only a hash of its link, and forgets whom it was for once it is used', async () => {
    const { email, token } = await invite();
    const inDatabase = async () =>
      JSON.stringify(await database.query('select * from one_time_link')) +
      JSON.stringify(await database.query('select * from audit_entry'));
    expect(await inDatabase()).not.toContain(token);
    expect(await inDatabase()).toContain(email);
    await join(token).expect(201);
    expect(await inDatabase()).not.toContain(email);
  });

  it('works once', async () => {
    const { token } = await invite();
    await join(token).expect(201);
    expect(codesOf(await join(token).expect(404))).toEqual(['link-spent']);
  });

  it('used by many at once makes one member', async () => {
    const { token, email } = await invite();
    const replies = await Promise.all(Array.from({ length: 8 }, () => join(token)));
    expect(replies.map(({ status }) => status).sort()).toEqual([
      201,
      ...Array.from({ length: 7 }, () => 404),
    ]);
    expect(await database.query('select from member where email = $1', [email])).toHaveLength(1);
  });

  it.each([
    ['forged', async () => 'x'.repeat(43)],
    ['cut short', async () => (await invite()).token.slice(0, 42)],
    ['with a letter changed', async () => changed((await invite()).token)],
    ['empty but for a NUL', async () => '\u0000'],
  ])('%s opens nothing', async (_name, token) => {
    expect(codesOf(await join(await token()).expect(404))).toEqual(['link-spent']);
  });

  it('has run out after fourteen days, and not before', async () => {
    const [early, late] = [await invite(), await invite()];
    house.clock.turn(14 * DAY_MINUTES - 1);
    await join(early.token).expect(201);
    house.clock.turn(1);
    expect(codesOf(await join(late.token).expect(404))).toEqual(['link-spent']);
  });

  it('that is withdrawn opens nothing, and is withdrawn once', async () => {
    const { reply, token } = await invite();
    const withdraw = () => api.delete(`/api/v1/invitations/${reply.body.id}`).set(steward.headers);
    await withdraw().expect(204);
    await withdraw().expect(404);
    await join(token).expect(404);
  });

  it('to the same address again makes the first link worthless', async () => {
    const first = await invite();
    const second = await invite(steward.headers, { email: first.email.toUpperCase() });
    await join(first.token).expect(404);
    await join(second.token).expect(201);
  });

  it('is replaced by who could withdraw it, and the trail says so', async () => {
    const waiting = await invite(admin.headers, { role: 'admin' });
    const refused = await invite(steward.headers, { email: waiting.email });
    expect([refused.reply.status, codesOf(refused.reply)]).toEqual([403, ['not-allowed']]);
    const withdrawn = () =>
      database.query('select action, actor_id from audit_entry where subject_id = $1 and action = $2', [
        waiting.reply.body.id,
        'invitation-withdrawn',
      ]);
    expect(await withdrawn()).toEqual([]);
    await api.get(`/invitation/${waiting.token}`).expect(200);
    expect((await invite(admin.headers, { email: waiting.email })).reply.status).toBe(201);
    expect(await withdrawn()).toEqual([{ action: 'invitation-withdrawn', actor_id: admin.member.id }]);
    await join(waiting.token).expect(404);
  });

  it('to an address of a member is refused, also when they became one meanwhile', async () => {
    const { reply } = await invite(steward.headers, { email: admin.member.email });
    expect([reply.status, codesOf(reply)]).toEqual([409, ['email-taken']]);
    const { token, email } = await invite();
    await database.query(`insert into member (email, display_name, role) values ($1, 'First', 'member')`, [
      email,
    ]);
    expect(codesOf(await join(token).expect(409))).toEqual(['email-taken']);
  });

  it('for a steward or an admin is an admin’s to hand over and to withdraw', async () => {
    for (const role of ['steward', 'admin']) {
      const refused = await invite(steward.headers, { role });
      expect([refused.reply.status, codesOf(refused.reply)]).toEqual([403, ['not-allowed']]);
      const { reply, token } = await invite(admin.headers, { role });
      await api.delete(`/api/v1/invitations/${reply.body.id}`).set(steward.headers).expect(403);
      const { body } = await join(token).expect(201);
      const [member] = await database.query('select role from member where id = $1', [body.id]);
      expect(member).toEqual({ role });
    }
  });

  it('is nothing a member sees or makes', async () => {
    const { headers } = await signedInMember(house);
    expect((await invite(headers)).reply.status).toBe(403);
    await api.get('/api/v1/invitations').set(headers).expect(404);
    const { reply } = await invite();
    await api.delete(`/api/v1/invitations/${reply.body.id}`).set(headers).expect(404);
  });

  it('is listed without its link while it is open', async () => {
    const { reply, email, token } = await invite();
    const { body } = await api.get('/api/v1/invitations').set(admin.headers).expect(200);
    const handedBy = steward.member.displayName;
    expect(body.items).toContainEqual(expect.objectContaining({ id: reply.body.id, email, handedBy }));
    expect(JSON.stringify(body)).not.toContain(token);
  });

  it.each([
    ['too short a password', { password: 'short' }],
    ['a password of the makerspace’s name', { password: 'Gullwing Yard Gullwing' }],
    ['a password of one’s own name', { displayName: 'Heronimus Slate', password: 'HeronimusSlate1' }],
  ])('is not used up by %s', async (_name, more) => {
    const { token } = await invite();
    expect(codesOf(await join(token, more).expect(422))).toEqual(['password-weak']);
    await join(token).expect(201);
  });

  it.each([
    ['an address that is none', { email: 'nuria at gullwing' }],
    ['an address too long', { email: `${'n'.repeat(250)}@gullwing.example` }],
    ['no name', { displayName: '  ' }],
    ['a role that is none', { role: 'owner' }],
  ])('with %s is not understood', async (_name, more) => {
    const { reply } = await invite(admin.headers, more);
    expect([reply.status, codesOf(reply)]).toEqual([400, ['field-invalid']]);
  });
});

function changed(token: string): string {
  return (token.startsWith('A') ? 'B' : 'A') + token.slice(1);
}

describe('on sheets', () => {
  it('an invitation is made, its link shown this once, opened and accepted', async () => {
    const handing = visitorOf(house);
    await handing.signIn(steward.member);
    const made = await handing.fill('/members/invite', '/members/invite', {
      email: 'ishaan@gullwing.example',
      displayName: 'Ishaan',
      role: 'member',
    });
    expect([made.status, made.headers['cache-control']]).toEqual([201, 'no-store']);
    const link = /value="(http[^"]*\/invitation\/[\w-]+)"/.exec(made.text)?.[1] ?? '';
    expect((await handing.get('/members').expect(200)).text).not.toContain(tokenOf(link));
    const path = new URL(link).pathname;
    const invitee = visitorOf(house);
    const sheet = await invitee.get(path).expect(200);
    expect(sheet.text).toContain('ishaan@gullwing.example');
    expect(sheet.headers).toMatchObject({ 'cache-control': 'no-store', 'referrer-policy': 'same-origin' });
    const weak = await invitee.fill(path, path, { displayName: 'Ishaan', password: 'short' });
    expect(weak.status).toBe(422);
    expect(weak.text).not.toContain('value="short"');
    const joined = await invitee.fill(path, path, { displayName: 'Ishaan', password: PASSWORD });
    expect([joined.status, joined.headers.location]).toEqual([303, '/']);
    await invitee.get('/account').expect(200);
    await invitee.get(path).expect(404);
  });

  it('the form says what is wrong and offers stewards no other role', async () => {
    const visitor = visitorOf(house);
    await visitor.signIn(steward.member);
    const { text } = await visitor.get('/members/invite').expect(200);
    expect(text).not.toContain('value="admin"');
    const wrong = await visitor.fill('/members/invite', '/members/invite', {
      email: 'x',
      displayName: '',
      role: 'admin',
    });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('Two things to put right');
    const forged = { email: 'x@gullwing.example', displayName: 'X', role: 'admin' };
    expect((await visitor.fill('/members/invite', '/members/invite', forged)).status).toBe(403);
  });
});

describe('whoever writes, the database', () => {
  it('uses no link twice, and takes none for two purposes', async () => {
    const { reply, token } = await invite();
    await join(token).expect(201);
    const refusedBy = async (sql: string) =>
      pgFaultOf(await database.query(sql, [reply.body.id]).catch((error: unknown) => error))?.constraint;
    expect(await refusedBy('update one_time_link set used_at = null where id = $1')).toBe(
      'one_time_link_spent',
    );
    const open = await invite();
    const id = open.reply.body.id;
    const onOpen = async (sql: string) =>
      pgFaultOf(await database.query(sql, [id]).catch((error: unknown) => error))?.constraint;
    expect(await onOpen(`update one_time_link set purpose = 'reset' where id = $1`)).toBe(
      'one_time_link_told',
    );
    expect(await onOpen('update one_time_link set used_at = expires_at where id = $1')).toMatch(
      /^one_time_link_/,
    );
    expect(await onOpen('update one_time_link set withdrawn_at = created_at where id = $1')).toBe(
      'one_time_link_told',
    );
  });
});
