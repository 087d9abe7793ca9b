import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { bearerOf, makeMember, signedInMember, TEST_PASSWORD } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');
const steward = await signedInMember(house, 'steward');

type Headers = { readonly authorization: string };

const see = (headers: Headers, id: string) => api.get(`/api/v1/members/${id}`).set(headers);
const giveRole = (headers: Headers, id: string, role: string) =>
  api.put(`/api/v1/members/${id}/role`).set(headers).send({ role });
const suspend = (headers: Headers, id: string, reason = 'left the oven on twice') =>
  api.post(`/api/v1/members/${id}/suspension`).set(headers).send({ reason });
const endSuspension = (headers: Headers, id: string, reason = 'talked over') =>
  api.delete(`/api/v1/members/${id}/suspension`).set(headers).send({ reason });
const isIn = async (headers: Headers) => (await api.get('/api/v1/me').set(headers)).status === 200;
const signIn = (email: string, password = TEST_PASSWORD) =>
  api.post('/api/v1/session').send({ email, password });

async function trailOf(memberId: string): Promise<readonly string[]> {
  const rows = await database.query<{ action: string }>(
    `select action from audit_entry where subject_kind = 'member' and subject_id = $1 order by id`,
    [memberId],
  );
  return rows.map(({ action }) => action);
}

describe('members, as others see them', () => {
  it('are listed for stewards and admins, and are not there for members', async () => {
    const { member, headers } = await signedInMember(house);
    for (const who of [steward.headers, admin.headers]) {
      const { body } = await api.get(`/api/v1/members?search=${member.email}`).set(who).expect(200);
      expect(body.items).toMatchObject([
        { id: member.id, email: member.email, role: 'member', state: 'active' },
      ]);
      expect(JSON.stringify(body)).not.toMatch(/argon2|passwordHash/);
    }
    expect(codesOf(await api.get('/api/v1/members').set(headers).expect(404))).toEqual(['not-found']);
  });

  it('are seen by themselves and not by each other', async () => {
    const [one, other] = [await signedInMember(house), await signedInMember(house)];
    await see(one.headers, one.member.id).expect(200);
    expect(codesOf(await see(one.headers, other.member.id).expect(404))).toEqual(['not-found']);
    await visitorPage(one.member, `/members/${other.member.id}`, 404);
  });

  it('come page by page, none twice and none left out', async () => {
    const seen: string[] = [];
    for (let cursor = ''; ; ) {
      const { body } = await api
        .get(`/api/v1/members?limit=2${cursor && `&cursor=${cursor}`}`)
        .set(admin.headers)
        .expect(200);
      seen.push(...body.items.map(({ id }: { id: string }) => id));
      if (body.next === null) break;
      cursor = body.next;
    }
    const [{ count } = { count: 0 }] = await database.query<{ count: number }>(
      `select count(*)::int as count from member where state <> 'left'`,
    );
    expect(new Set(seen).size).toBe(seen.length);
    expect(seen).toHaveLength(count);
  });

  it('stewards without a standing sign-off see no more than members do', async () => {
    const lapsed = await signedInMember(house, 'steward', []);
    await api.get('/api/v1/members').set(lapsed.headers).expect(404);
    await see(lapsed.headers, admin.member.id).expect(404);
  });
});

async function visitorPage(member: Awaited<ReturnType<typeof makeMember>>, path: string, status: number) {
  const visitor = visitorOf(house);
  await visitor.signIn(member);
  await visitor.get(path).expect(status);
}

describe('a suspension', () => {
  it('ends every session at once, lets nobody in, and tells why', async () => {
    const { member, headers } = await signedInMember(house);
    const elsewhere = await bearerOf(house, member);
    const { body } = await suspend(steward.headers, member.id).expect(200);
    expect(body).toMatchObject({
      state: 'suspended',
      suspensions: [{ reason: 'left the oven on twice', endedAt: null }],
    });
    expect([await isIn(headers), await isIn(elsewhere)]).toEqual([false, false]);
    expect(codesOf(await signIn(member.email).expect(401))).toEqual(['sign-in-failed']);
  });

  it('is ended with a reason; the sessions of before stay ended', async () => {
    const { member, headers } = await signedInMember(house);
    await suspend(steward.headers, member.id).expect(200);
    const { body } = await endSuspension(admin.headers, member.id).expect(200);
    expect(body).toMatchObject({
      state: 'active',
      suspensions: [
        {
          suspendedBy: steward.member.displayName,
          endedBy: admin.member.displayName,
          endReason: 'talked over',
        },
      ],
    });
    expect(await isIn(headers)).toBe(false);
    await signIn(member.email).expect(201);
    expect(await trailOf(member.id)).toEqual([
      'signed-in',
      'member-suspended',
      'suspension-ended',
      'signed-in',
    ]);
  });

  it('is not begun twice, nor ended twice', async () => {
    const member = await makeMember(house);
    await suspend(steward.headers, member.id).expect(200);
    expect(codesOf(await suspend(steward.headers, member.id).expect(409))).toEqual(['already-suspended']);
    await endSuspension(steward.headers, member.id).expect(200);
    expect(codesOf(await endSuspension(steward.headers, member.id).expect(409))).toEqual(['not-suspended']);
  });

  it('needs a reason', async () => {
    const member = await makeMember(house);
    expect(codesOf(await suspend(steward.headers, member.id, '   ').expect(400))).toEqual(['field-invalid']);
  });

  it('of stewards and admins is for admins, and nobody suspends themselves', async () => {
    const other = await makeMember(house, 'steward');
    for (const id of [other.id, admin.member.id, steward.member.id]) {
      expect(codesOf(await suspend(steward.headers, id).expect(403))).toEqual(['not-allowed']);
    }
    expect(codesOf(await suspend(admin.headers, admin.member.id).expect(403))).toEqual(['not-allowed']);
    await suspend(admin.headers, other.id).expect(200);
  });

  it('takes with it the links that the suspended handed over', async () => {
    const handing = await signedInMember(house, 'steward');
    const invited = await api
      .post('/api/v1/invitations')
      .set(handing.headers)
      .send({ email: 'by-suspended@gullwing.example', displayName: 'Aldo' })
      .expect(201);
    await suspend(admin.headers, handing.member.id).expect(200);
    const token = new URL(invited.body.link).pathname.split('/').at(-1);
    const used = await api
      .post('/api/v1/invitations/use')
      .send({ token, displayName: 'Aldo', password: 'slate heron under wet roof' });
    expect(codesOf(used)).toEqual(['link-spent']);
  });
});

describe('a role', () => {
  it('is given by an admin alone, and ends the sessions of before', async () => {
    const { member, headers } = await signedInMember(house);
    expect(codesOf(await giveRole(steward.headers, member.id, 'steward').expect(403))).toEqual([
      'not-allowed',
    ]);
    expect(codesOf(await giveRole(headers, member.id, 'admin').expect(403))).toEqual(['not-allowed']);
    await giveRole(admin.headers, member.id, 'steward').expect(200);
    expect(await isIn(headers)).toBe(false);
    const anew = await bearerOf(house, member);
    expect((await see(anew, member.id)).body.role).toBe('steward');
    const { body: told } = await api.get('/api/v1/notices').set(anew).expect(200);
    expect(JSON.stringify(told.items)).toContain('You are a steward now');
  });

  it('given again changes nothing and ends nothing', async () => {
    const { member, headers } = await signedInMember(house);
    await giveRole(admin.headers, member.id, 'member').expect(200);
    expect(await isIn(headers)).toBe(true);
  });

  it('that is none is not understood', async () => {
    const member = await makeMember(house);
    await giveRole(admin.headers, member.id, 'owner').expect(400);
    await giveRole(admin.headers, 'not-an-id', 'member').expect(404);
    await giveRole(admin.headers, '00000000-0000-4000-8000-000000000000', 'member').expect(404);
  });

  it('raised makes a reset link worthless that a steward handed to the member', async () => {
    const member = await makeMember(house);
    const handed = await api
      .post(`/api/v1/members/${member.id}/password-reset`)
      .set(steward.headers)
      .expect(201);
    await giveRole(admin.headers, member.id, 'admin').expect(200);
    const token = new URL(handed.body.link).pathname.split('/').at(-1);
    const used = await api
      .post('/api/v1/password-resets/use')
      .send({ token, password: 'slate heron under wet roof' });
    expect(codesOf(used)).toEqual(['link-spent']);
    await giveRole(admin.headers, member.id, 'member').expect(200);
  });
});

describe('every session of a member', () => {
  it('is ended by a steward, an admin’s by another admin', async () => {
    const { member, headers } = await signedInMember(house);
    const other = await signedInMember(house, 'admin');
    await api.delete(`/api/v1/members/${member.id}/sessions`).set(steward.headers).expect(200);
    expect(await isIn(headers)).toBe(false);
    await api.delete(`/api/v1/members/${other.member.id}/sessions`).set(steward.headers).expect(403);
    await api.delete(`/api/v1/members/${other.member.id}/sessions`).set(admin.headers).expect(200);
    expect(await isIn(other.headers)).toBe(false);
    await giveRole(admin.headers, other.member.id, 'member').expect(200);
  });
});

describe('one’s own account', () => {
  it('takes another name, which others see', async () => {
    const { member, headers } = await signedInMember(house);
    await api.patch('/api/v1/me').set(headers).send({ displayName: '  Maren of the mill ' }).expect(200);
    expect((await see(admin.headers, member.id)).body.displayName).toBe('Maren of the mill');
    await api.patch('/api/v1/me').set(headers).send({ displayName: '' }).expect(400);
    await api
      .patch('/api/v1/me')
      .set(headers)
      .send({ displayName: 'x'.repeat(61) })
      .expect(400);
    await api.patch('/api/v1/me').set(headers).send({ displayName: 'a\u0000b' }).expect(400);
  });

  it('takes a new password when the present one is given, and ends every other session', async () => {
    const { member, headers } = await signedInMember(house);
    const elsewhere = await bearerOf(house, member);
    const change = (current: string, password: string) =>
      api.post('/api/v1/me/password').set(headers).send({ current, password });
    expect(codesOf(await change('not the password', 'slate heron under wet roof').expect(422))).toEqual([
      'password-wrong',
    ]);
    expect(codesOf(await change(TEST_PASSWORD, 'too short').expect(422))).toEqual(['password-weak']);
    expect(
      codesOf(await change(TEST_PASSWORD, `${member.displayName} ${member.displayName}`).expect(422)),
    ).toEqual(['password-weak']);
    const same = (await change(TEST_PASSWORD, TEST_PASSWORD).expect(422)).body.reasons;
    expect(same).toMatchObject([
      { code: 'password-weak', field: 'password', message: 'The new password is the one you have now.' },
    ]);
    await change(TEST_PASSWORD, 'slate heron under wet roof').expect(204);
    expect([await isIn(headers), await isIn(elsewhere)]).toEqual([true, false]);
    await signIn(member.email).expect(401);
    await signIn(member.email, 'slate heron under wet roof').expect(201);
  });

  it('is no way to guess the password: wrong ones are counted, and a right one takes the count back', async () => {
    const { headers } = await signedInMember(house);
    const guess = (current: string) =>
      api.post('/api/v1/me/password').set(headers).send({ current, password: 'slate heron under wet roof' });
    for (let i = 1; i < house.settings.signInFailures; i++) await guess(`guess ${i}`).expect(422);
    await guess(TEST_PASSWORD).expect(204);
    for (let i = 0; i < house.settings.signInFailures; i++) await guess(`guess ${i}`).expect(422);
    const reply = await guess('slate heron under wet roof').expect(429);
    expect(Number(reply.headers['retry-after'])).toBeGreaterThan(0);
  });

  it('is a sheet with all of it', async () => {
    const member = await makeMember(house);
    const visitor = visitorOf(house);
    await visitor.signIn(member);
    const renamed = await visitor.fill('/account', '/account/name', { displayName: 'Kofi' });
    expect([renamed.status, renamed.headers.location]).toEqual([303, '/account?just=name']);
    const unnamed = await visitor.fill('/account', '/account/name', { displayName: ' ' });
    expect(unnamed.status).toBe(422);
    const wrong = await visitor.fill('/account', '/account/password', { current: 'x', password: 'y' });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('That is not the password you have now.');
    const same = { current: TEST_PASSWORD, password: TEST_PASSWORD };
    const unchanged = await visitor.fill('/account', '/account/password', same);
    expect(unchanged.status).toBe(422);
    expect(unchanged.text).toContain('href="#password"');
    expect(unchanged.text.split('The new password is the one you have now.').length).toBe(3);
    const changed = await visitor.fill('/account', '/account/password', {
      current: TEST_PASSWORD,
      password: 'slate heron under wet roof',
    });
    expect([changed.status, changed.headers.location]).toEqual([303, '/account?just=password']);
    await visitor.get('/account?just=password').expect(200);
  });
});

describe('a member’s sheet', () => {
  it('suspends, ends the suspension, gives a role and says what is wrong', async () => {
    const member = await makeMember(house);
    const visitor = visitorOf(house);
    await visitor.signIn(admin.member);
    const sheet = `/members/${member.id}`;
    const without = await visitor.fill(sheet, `${sheet}/suspend`, { reason: '' });
    expect(without.status).toBe(422);
    expect(without.text).toContain('Give a reason');
    await expectBack(
      visitor.fill(sheet, `${sheet}/suspend`, { reason: '<b>oven</b>' }),
      `${sheet}?just=suspended`,
    );
    const { text } = await visitor.get(sheet).expect(200);
    expect(text).toContain('&lt;b&gt;oven&lt;/b&gt;');
    const again = await visitor.submit(sheet, `${sheet}/suspend`, { reason: 'again' });
    expect(again.status).toBe(409);
    await expectBack(
      visitor.fill(sheet, `${sheet}/end-suspension`, { reason: 'over' }),
      `${sheet}?just=active`,
    );
    await expectBack(visitor.fill(sheet, `${sheet}/role`, { role: 'steward' }), `${sheet}?just=role`);
    await expectBack(visitor.fill(sheet, `${sheet}/sign-out`), `${sheet}?just=signed-out`);
    await visitor.get(`${sheet}?just=role`).expect(200);
    await visitor.get('/members?state=suspended&search=nobody').expect(200);
    expect((await visitor.get('/members').expect(200)).text).toContain('href="/members/invite"');
    expect((await visitor.get(sheet)).text).toContain(`href="${sheet}/leave"`);
  });
});

async function expectBack(sent: Promise<supertest.Response>, location: string): Promise<void> {
  const reply = await sent;
  expect([reply.status, reply.headers.location]).toEqual([303, location]);
}

describe('whoever writes, the database', () => {
  const refusedBy = async (sql: string, values: readonly string[]) =>
    pgFaultOf(
      await database.query(sql, values).then(
        () => undefined,
        (error: unknown) => error,
      ),
    )?.constraint;

  it('forgets who left, and never brings them back', async () => {
    const member = await makeMember(house);
    const left = `update member set state = 'left', left_at = now()`;
    expect(await refusedBy(`${left} where id = $1`, [member.id])).toBe('member_left_forgotten');
    await database.query(`${left}, email = null, password_hash = null where id = $1`, [member.id]);
    expect(await refusedBy(`update member set state = 'active' where id = $1`, [member.id])).toBe(
      'member_left_stays',
    );
    expect(await refusedBy('delete from member where id = $1', [member.id])).toBe('member_append_only');
  });

  it('rewrites no suspension and deletes none', async () => {
    const member = await makeMember(house);
    await suspend(steward.headers, member.id).expect(200);
    const of = 'where member_id = $1';
    expect(await refusedBy(`update member_suspension set reason = 'other' ${of}`, [member.id])).toBe(
      'member_suspension_kept',
    );
    expect(await refusedBy(`update member_suspension set suspended_at = now() ${of}`, [member.id])).toBe(
      'member_suspension_kept',
    );
    expect(await refusedBy(`delete from member_suspension ${of}`, [member.id])).toBe(
      'member_suspension_append_only',
    );
    await endSuspension(steward.headers, member.id).expect(200);
    expect(
      await refusedBy(
        `update member_suspension set ended_at = null, ended_by = null, end_reason = null ${of}`,
        [member.id],
      ),
    ).toBe('member_suspension_kept');
    const insert =
      'insert into member_suspension (member_id, suspended_at, suspended_by, reason) values ($1, now(), $2, $3)';
    await database.query(insert, [member.id, admin.member.id, 'one']);
    expect(await refusedBy(insert, [member.id, admin.member.id, 'two'])).toBe('member_suspension_one_open');
  });
});
