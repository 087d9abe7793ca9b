import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { bearerOf, makeMember, signedInMember, TEST_PASSWORD } from '../support/sign-in.js';

const DAY_MINUTES = 24 * 60;
const PASSWORD = 'slate heron under wet roof';

const house = await testHouse(await testDatabase(), {
  settings: { sessionHours: 24 * 90, sessionIdleMinutes: 60 * 24 * 90 },
});
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');
const steward = await signedInMember(house, 'steward');

type Headers = { readonly authorization: string };

const hand = (headers: Headers, id: string) => api.post(`/api/v1/members/${id}/password-reset`).set(headers);

async function handed(id: string, headers: Headers = steward.headers): Promise<string> {
  const { body } = await hand(headers, id).expect(201);
  return new URL(body.link).pathname.split('/').at(-1) ?? '';
}

const use = (token: string, password = PASSWORD) =>
  api.post('/api/v1/password-resets/use').send({ token, password });
const signIn = (email: string, password: string) => api.post('/api/v1/session').send({ email, password });

describe('a link for a new password', () => {
  it('sets it once, ends every session, and never tells who handed it over', async () => {
    const { member, headers } = await signedInMember(house);
    const token = await handed(member.id);
    await signIn(member.email, TEST_PASSWORD).expect(201);
    await use(token).expect(204);
    await api.get('/api/v1/me').set(headers).expect(401);
    await signIn(member.email, TEST_PASSWORD).expect(401);
    await signIn(member.email, PASSWORD).expect(201);
    expect(codesOf(await use(token, 'another heron under wet roof').expect(404))).toEqual(['link-spent']);
  });

  it('used by many at once sets one password', async () => {
    const member = await makeMember(house);
    const token = await handed(member.id);
    const passwords = Array.from({ length: 6 }, (_, i) => `heron number ${i} under wet roof`);
    const replies = await Promise.all(passwords.map((password) => use(token, password)));
    expect(replies.map(({ status }) => status).sort()).toEqual([204, 404, 404, 404, 404, 404]);
    const winner = passwords[replies.findIndex(({ status }) => status === 204)] ?? '';
    await signIn(member.email, winner).expect(201);
  });

  it('has run out after a day, and not before', async () => {
    const [early, late] = [await makeMember(house), await makeMember(house)];
    const [earlyToken, lateToken] = [await handed(early.id), await handed(late.id)];
    house.clock.turn(DAY_MINUTES - 1);
    await use(earlyToken).expect(204);
    house.clock.turn(1);
    expect(codesOf(await use(lateToken).expect(404))).toEqual(['link-spent']);
  });

  it('is made worthless by a second one, by a changed password, by a suspension', async () => {
    const { member, headers } = await signedInMember(house);
    const first = await handed(member.id);
    const second = await handed(member.id);
    await use(first).expect(404);
    await api
      .post('/api/v1/me/password')
      .set(headers)
      .send({ current: TEST_PASSWORD, password: PASSWORD })
      .expect(204);
    await use(second).expect(404);
    const third = await handed(member.id);
    const suspension = `/api/v1/members/${member.id}/suspension`;
    await api.post(suspension).set(steward.headers).send({ reason: 'x' }).expect(200);
    await use(third).expect(404);
    expect(codesOf(await hand(steward.headers, member.id).expect(409))).toEqual(['member-suspended']);
    await api.delete(suspension).set(steward.headers).send({ reason: 'x' }).expect(200);
    await use(third).expect(404);
  });

  it('opens no invitation, and an invitation’s link sets no password', async () => {
    const member = await makeMember(house);
    const token = await handed(member.id);
    await api
      .post('/api/v1/invitations/use')
      .send({ token, displayName: 'X', password: PASSWORD })
      .expect(404);
    const invited = await api
      .post('/api/v1/invitations')
      .set(admin.headers)
      .send({ email: 'bram@gullwing.example', displayName: 'Bram' });
    await use(new URL(invited.body.link).pathname.split('/').at(-1) ?? '').expect(404);
    await use('forged').expect(404);
  });

  it('is not used up by a password that is not taken', async () => {
    const member = await makeMember(house);
    const token = await handed(member.id);
    expect(codesOf(await use(token, 'qwertyuiopasdfghjkl').expect(422))).toEqual(['password-weak']);
    await use(token).expect(204);
  });
});

describe('who hands it over', () => {
  it('is a steward to a member, an admin to anybody else, nobody to themselves', async () => {
    const member = await makeMember(house);
    const [otherSteward, otherAdmin] = [
      await makeMember(house, 'steward'),
      await signedInMember(house, 'admin'),
    ];
    await hand(steward.headers, member.id).expect(201);
    await hand(steward.headers, otherSteward.id).expect(403);
    await hand(steward.headers, otherAdmin.member.id).expect(403);
    await hand(steward.headers, steward.member.id).expect(403);
    await hand(admin.headers, otherSteward.id).expect(201);
    await hand(admin.headers, otherAdmin.member.id).expect(201);
    await hand(admin.headers, admin.member.id).expect(403);
    await hand(otherAdmin.headers, admin.member.id).expect(201);
    const asMember = await signedInMember(house);
    await hand(asMember.headers, member.id).expect(404);
    await hand(asMember.headers, asMember.member.id).expect(403);
  });
});

describe('on sheets', () => {
  it('a link is made, shown this once, and used', async () => {
    const member = await makeMember(house);
    const handing = visitorOf(house);
    await handing.signIn(steward.member);
    const made = await handing.fill(`/members/${member.id}`, `/members/${member.id}/reset-link`);
    expect([made.status, made.headers['cache-control']]).toEqual([201, 'no-store']);
    const path = new URL(/value="(http[^"]*\/reset\/[\w-]+)"/.exec(made.text)?.[1] ?? '').pathname;
    const visitor = visitorOf(house);
    expect((await visitor.fill(path, path, { password: '' })).status).toBe(422);
    expect((await visitor.fill(path, path, { password: 'short' })).status).toBe(422);
    const set = await visitor.fill(path, path, { password: PASSWORD });
    expect([set.status, set.headers.location]).toEqual([303, '/sign-in?just=reset']);
    await visitor.get(path).expect(404);
    await bearerOf(house, member).then(
      () => expect.unreachable('The password of before still holds.'),
      () => undefined,
    );
  });
});
