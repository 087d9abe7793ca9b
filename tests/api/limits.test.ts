import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { countOne } from '../../server/http/rate-limit.js';
import { sweep } from '../../server/http/sweep.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { spiralPolyline } from '../support/hostile-drawings.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { bearerOf, makeMember, signedInMember, TEST_PASSWORD, type TestMember } from '../support/sign-in.js';

const database = await testDatabase();
// Behind a proxy, so that a test can speak from several addresses.
const house = await testHouse(database, { settings: { trustProxy: 1, signInFailures: 3 } });

const signIn = (email: string, password: string, from: string) =>
  supertest(house.url).post('/api/v1/session').set('x-forwarded-for', from).send({ email, password });

const fail = async ({ email }: TestMember, from: string, times: number) => {
  for (let i = 0; i < times; i++) await signIn(email, 'not this one', from).expect(401);
};

describe('failures to sign in', () => {
  it('are counted per account and address, and then have to wait', async () => {
    const member = await makeMember(house);
    await fail(member, '192.0.2.1', 3);
    const reply = await signIn(member.email, TEST_PASSWORD, '192.0.2.1').expect(429);
    expect(codesOf(reply)).toEqual(['too-many-requests']);
    const waitSeconds = Number(reply.headers['retry-after']);
    expect(waitSeconds).toBeGreaterThan(14 * 60);
    expect(waitSeconds).toBeLessThanOrEqual(15 * 60);
    house.clock.turn(waitSeconds / 60);
    await signIn(member.email, TEST_PASSWORD, '192.0.2.1').expect(201);
  });

  it('lock nobody out at another address, nor another account at the same', async () => {
    const [member, other] = [await makeMember(house), await makeMember(house)];
    await fail(member, '192.0.2.2', 3);
    await signIn(member.email, TEST_PASSWORD, '192.0.2.2').expect(429);
    await signIn(member.email, TEST_PASSWORD, '192.0.2.3').expect(201);
    await signIn(other.email, TEST_PASSWORD, '192.0.2.2').expect(201);
  });

  it('are forgotten by a success', async () => {
    const member = await makeMember(house);
    await fail(member, '192.0.2.4', 2);
    await signIn(member.email, TEST_PASSWORD, '192.0.2.4').expect(201);
    await fail(member, '192.0.2.4', 2);
    await signIn(member.email, TEST_PASSWORD, '192.0.2.4').expect(201);
  });

  it('successes are not counted', async () => {
    const member = await makeMember(house);
    for (let i = 0; i < 5; i++) await signIn(member.email, TEST_PASSWORD, '192.0.2.5').expect(201);
  });

  it('are the same for an address that is nobody’s', async () => {
    for (let i = 0; i < 3; i++) await signIn('nobody@gullwing.example', 'x', '192.0.2.6').expect(401);
    await signIn('Nobody@gullwing.example ', 'x', '192.0.2.6').expect(429);
  });

  it('a burst gets no more tries than one after the other', async () => {
    const member = await makeMember(house);
    const burst = Array.from({ length: 12 }, () => signIn(member.email, 'not this one', '192.0.2.7'));
    const statuses = (await Promise.all(burst)).map(({ status }) => status);
    expect(statuses.filter((status) => status === 401)).toHaveLength(3);
    expect(statuses.filter((status) => status === 429)).toHaveLength(9);
  });

  it('are counted by network where addresses come by the network', async () => {
    const member = await makeMember(house);
    await fail(member, '2001:db8:1:2:aaaa::1', 2);
    await fail(member, '2001:db8:1:2:bbbb::2', 1);
    await signIn(member.email, TEST_PASSWORD, '2001:db8:1:2::3').expect(429);
    await signIn(member.email, TEST_PASSWORD, '2001:db8:1:3::3').expect(201);
  });

  it('tell the page as well', async () => {
    const member = await makeMember(house);
    const visitor = visitorOf(house);
    for (let i = 0; i < 3; i++) {
      await visitor.submit('/sign-in', '/sign-in', { email: member.email, password: 'not this one' });
    }
    const reply = await visitor.submit('/sign-in', '/sign-in', {
      email: member.email,
      password: TEST_PASSWORD,
    });
    expect(reply.status).toBe(429);
    expect(reply.headers['retry-after']).toBeDefined();
    expect(reply.text).toContain('too many requests');
  });

  it('are not counted where limits are off', async () => {
    const free = await testHouse(database, { settings: { rateLimits: false, signInFailures: 1 } });
    for (let i = 0; i < 3; i++) {
      await supertest(free.url)
        .post('/api/v1/session')
        .send({ email: 'x@gullwing.example', password: 'x' })
        .expect(401);
    }
  });
});

describe('what strangers may do', async () => {
  const strict = await testHouse(database, { settings: { trustProxy: 1, signedOutChecksPerMinute: 2 } });
  const measure = (from: string, headers = {}) =>
    supertest(strict.url)
      .post('/api/v1/drawings')
      .set({ 'x-forwarded-for': from, ...headers })
      .send({ dxf: '' });

  it('is counted per address and minute, for drawings and checks together', async () => {
    await measure('192.0.2.20').expect(422);
    await supertest(strict.url)
      .post('/api/v1/checks')
      .set('x-forwarded-for', '192.0.2.20')
      .send({})
      .expect(400);
    const reply = await measure('192.0.2.20').expect(429);
    expect(codesOf(reply)).toEqual(['too-many-requests']);
    expect(Number(reply.headers['retry-after'])).toBeLessThanOrEqual(60);
    await measure('192.0.2.21').expect(422);
    strict.clock.turn(1);
    await measure('192.0.2.20').expect(422);
  });

  it('counts once more for every quarter second a drawing takes', async () => {
    const slow = await testHouse(database, {
      settings: { trustProxy: 1, signedOutChecksPerMinute: 3, checkTimeoutMs: 1000 },
    });
    const burn = () =>
      supertest(slow.url)
        .post('/api/v1/drawings')
        .set('x-forwarded-for', '192.0.2.23')
        .send({ dxf: spiralPolyline(400_000) });
    expect(codesOf(await burn().expect(422))).toEqual(['check-took-too-long']);
    expect(codesOf(await burn().expect(429))).toEqual(['too-many-requests']);
  });

  it('is not counted for members', async () => {
    const headers = await bearerOf(strict, await makeMember(strict));
    for (let i = 0; i < 4; i++) await measure('192.0.2.22', headers).expect(422);
  });
});

describe('an address that a client makes up', () => {
  it('counts for nothing unless a proxy is trusted', async () => {
    const open = await testHouse(database, { settings: { signInFailures: 2 } });
    const { email } = await makeMember(open);
    const statuses = [];
    for (const from of ['198.51.100.1', '198.51.100.2', '198.51.100.3']) {
      const reply = await supertest(open.url)
        .post('/api/v1/session')
        .set('x-forwarded-for', from)
        .send({ email, password: 'not this one' });
      statuses.push(reply.status);
    }
    expect(statuses).toEqual([401, 401, 429]);
  });
});

describe('a count', () => {
  const at = (minutes: number) => new Date(Date.UTC(2026, 0, 1, 12, 0) + minutes * 60_000);

  it('slides over the minutes', async () => {
    const limit = { bucket: 'slides', limit: 2, minutes: 3 };
    expect(await countOne(database, limit, at(0))).toBeUndefined();
    expect(await countOne(database, limit, at(1.5))).toBeUndefined();
    expect(await countOne(database, limit, at(2.5))).toBe(30);
    expect(await countOne(database, limit, at(3))).toBeUndefined();
    expect(await countOne(database, limit, at(3))).toBe(60);
    expect(await countOne(database, limit, at(4))).toBeUndefined();
  });

  it('lets exactly as many through as the limit says when all come at once', async () => {
    const limit = { bucket: 'at once', limit: 7, minutes: 15 };
    const outcomes = await Promise.all(Array.from({ length: 40 }, () => countOne(database, limit, at(0))));
    expect(outcomes.filter((wait) => wait === undefined)).toHaveLength(7);
  });
});

it('sweeping forgets what nobody can need any more, and nothing else', async () => {
  const swept = await testHouse(database);
  const { member } = await signedInMember(swept);
  const left = async () => ({
    counts: (await database.query(`select from rate_count where bucket = 'swept'`)).length,
    sessions: (await database.query('select from session where member_id = $1', [member.id])).length,
  });
  await countOne(database, { bucket: 'swept', limit: 9, minutes: 1 }, swept.clock.now());
  const after = (hours: number) => new Date(swept.clock.now().getTime() + hours * 3_600_000);
  await sweep(database, after(23));
  expect(await left()).toEqual({ counts: 1, sessions: 1 });
  await sweep(database, after(26));
  expect(await left()).toEqual({ counts: 0, sessions: 1 });
  await sweep(database, after(24 * 31 + swept.settings.sessionHours));
  expect(await left()).toEqual({ counts: 0, sessions: 0 });
});
