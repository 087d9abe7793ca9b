import { createHmac } from 'node:crypto';
import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { problem } from '../../server/http/problem.js';
import { me, signedIn } from '../../server/members/schemas.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { bearerOf, makeMember, signedInMember, TEST_PASSWORD } from '../support/sign-in.js';

const house = await testHouse(await testDatabase(), {
  settings: { sessionIdleMinutes: 60, sessionHours: 8 },
});
const api = supertest(house.url);

describe('signing in', () => {
  it('gives a token that says who one is, and the member', async () => {
    const member = await makeMember(house, 'member', []);
    const reply = await api.post('/api/v1/session').send({ email: member.email, password: TEST_PASSWORD });
    expect(reply.status).toBe(201);
    const { token, expiresAt, member: own } = signedIn.decode(reply.body);
    expect(own).toEqual({ ...member, role: 'member' });
    expect(expiresAt.getTime()).toBe(house.clock.now().getTime() + 8 * 3_600_000);
    const answer = await api.get('/api/v1/me').set('authorization', `Bearer ${token}`).expect(200);
    expect(me.decode(answer.body)).toEqual({ member: own, signOffs: [], quota: null });
  });

  it('takes the address in any case and with blanks around it', async () => {
    const { email } = await makeMember(house);
    await api
      .post('/api/v1/session')
      .send({ email: `  ${email.toUpperCase()} `, password: TEST_PASSWORD })
      .expect(201);
  });

  it('puts only member, session and times into the token', async () => {
    const { headers } = await signedInMember(house);
    const [, payload = ''] = headers.authorization.split('.');
    const claims = Object.keys(JSON.parse(Buffer.from(payload, 'base64url').toString()));
    expect(claims.sort()).toEqual(['aud', 'exp', 'iat', 'iss', 'sid', 'sub']);
  });

  it.each([
    ['a wrong password', async () => ({ email: (await makeMember(house)).email, password: 'not this one' })],
    ['an unknown address', async () => ({ email: 'nobody@gullwing.example', password: TEST_PASSWORD })],
    [
      'a suspended member',
      async () => {
        const { email, id } = await makeMember(house);
        await house.database.query(`update member set state = 'suspended' where id = $1`, [id]);
        return { email, password: TEST_PASSWORD };
      },
    ],
  ])('answers %s like every other failure', async (_name, given) => {
    const reply = await api.post('/api/v1/session').send(await given());
    expect(reply.status).toBe(401);
    const { reasons, type } = problem.parse(reply.body);
    expect(reasons.map(({ code }) => code)).toEqual(['sign-in-failed']);
    expect(type).toBe('/problems/sign-in-failed');
  });

  it('makes a stronger hash of a password that was hashed with less', async () => {
    const member = await makeMember(house);
    const { hash } = await import('@node-rs/argon2');
    const weak = await hash(TEST_PASSWORD, { memoryCost: 8192, timeCost: 1, parallelism: 1 });
    await house.database.query('update member set password_hash = $2 where id = $1', [member.id, weak]);
    await bearerOf(house, member);
    const [row] = await house.database.query<{ hash: string }>(
      'select password_hash as hash from member where id = $1',
      [member.id],
    );
    expect(row?.hash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    await bearerOf(house, member);
  });

  it('keeps no session id, only its hash', async () => {
    const { member, headers } = await signedInMember(house);
    const [, payload = ''] = headers.authorization.split('.');
    const { sid } = JSON.parse(Buffer.from(payload, 'base64url').toString()) as { sid: string };
    const rows = await house.database.query('select * from session where member_id = $1', [member.id]);
    expect(rows).toHaveLength(1);
    expect(JSON.stringify(rows)).not.toContain(sid);
  });
});

describe('a session ends', () => {
  const expectEnded = async (headers: { authorization: string }) => {
    const reply = await api.get('/api/v1/me').set(headers);
    expect(reply.status).toBe(401);
    expect(problem.parse(reply.body).reasons[0]?.code).toBe('session-ended');
  };

  it('when its member signs out, also with an empty body said to be JSON', async () => {
    const { headers } = await signedInMember(house);
    await api.delete('/api/v1/session').set(headers).set('content-type', 'application/json').expect(204);
    await expectEnded(headers);
  });

  it('when it has not been used for as long as the idle limit, and not before', async () => {
    const { headers } = await signedInMember(house);
    house.clock.turn(59);
    await api.get('/api/v1/me').set(headers).expect(200);
    house.clock.turn(59);
    await api.get('/api/v1/me').set(headers).expect(200);
    house.clock.turn(60);
    await expectEnded(headers);
  });

  it('at the absolute limit however much it is used', async () => {
    const { headers } = await signedInMember(house);
    for (let halfHours = 0; halfHours < 15; halfHours++) {
      house.clock.turn(30);
      await api.get('/api/v1/me').set(headers).expect(200);
    }
    house.clock.turn(30);
    await expectEnded(headers);
  });

  it('at once when its member is suspended', async () => {
    const { member, headers } = await signedInMember(house);
    await house.database.query(`update member set state = 'suspended' where id = $1`, [member.id]);
    await expectEnded(headers);
  });

  it('and the role is the database’s, not the token’s', async () => {
    const { member, headers } = await signedInMember(house, 'admin');
    await makeMember(house, 'admin');
    await house.database.query(`update member set role = 'member' where id = $1`, [member.id]);
    const reply = await api.get('/api/v1/me').set(headers).expect(200);
    expect(me.decode(reply.body).member.role).toBe('member');
  });

  it('is renewed at most once a minute', async () => {
    const { member, headers } = await signedInMember(house);
    const lastSeen = async () => {
      const [row] = await house.database.query<{ at: Date }>(
        'select last_seen_at as at from session where member_id = $1',
        [member.id],
      );
      return row?.at.getTime();
    };
    const opened = house.clock.now().getTime();
    house.clock.turn(0.9);
    await api.get('/api/v1/me').set(headers).expect(200);
    expect(await lastSeen()).toBe(opened);
    house.clock.turn(0.1);
    await api.get('/api/v1/me').set(headers).expect(200);
    expect(await lastSeen()).toBe(opened + 60_000);
  });
});

describe('a token that is not ours', () => {
  const encode = (part: object) => Buffer.from(JSON.stringify(part)).toString('base64url');
  const sign = (header: object, payload: object, secret: string) => {
    const signed = `${encode(header)}.${encode(payload)}`;
    return `${signed}.${createHmac('sha256', secret).update(signed).digest('base64url')}`;
  };
  const secretOfHouse = async () => {
    const [row] = await house.database.query<{ secret: string }>(
      'select token_secret as secret from installation',
    );
    return row?.secret ?? '';
  };
  const parts = async () => {
    const { headers } = await signedInMember(house);
    const [header = '', payload = ''] = headers.authorization.slice('Bearer '.length).split('.');
    const read = (part: string) =>
      JSON.parse(Buffer.from(part, 'base64url').toString()) as Record<string, unknown>;
    return { header: read(header), payload: read(payload), secret: await secretOfHouse() };
  };
  type Parts = Awaited<ReturnType<typeof parts>>;

  it('but the same parts signed with our secret are', async () => {
    const { header, payload, secret } = await parts();
    await api
      .get('/api/v1/me')
      .set('authorization', `Bearer ${sign(header, payload, secret)}`)
      .expect(200);
  });

  it.each<[string, (given: Parts) => string]>([
    ['no signature', ({ payload }) => `${encode({ alg: 'none', typ: 'JWT' })}.${encode(payload)}.`],
    [
      'algorithm none and our type',
      ({ header, payload }) => `${encode({ ...header, alg: 'none' })}.${encode(payload)}.`,
    ],
    ['another secret', ({ header, payload }) => sign(header, payload, 'x'.repeat(43))],
    [
      'another kind of token',
      ({ header, payload, secret }) => sign({ ...header, typ: 'JWT' }, payload, secret),
    ],
    ['another audience', ({ header, payload, secret }) => sign(header, { ...payload, aud: 'else' }, secret)],
    ['another issuer', ({ header, payload, secret }) => sign(header, { ...payload, iss: 'else' }, secret)],
    [
      'an expiry that has passed',
      ({ header, payload, secret }) => sign(header, { ...payload, exp: 1 }, secret),
    ],
    ['no expiry', ({ header, payload: { exp: _, ...payload }, secret }) => sign(header, payload, secret)],
    [
      'another member in the same session',
      ({ header, payload, secret }) =>
        sign(header, { ...payload, sub: '00000000-0000-4000-8000-000000000000' }, secret),
    ],
    [
      'a NUL for a member',
      ({ header, payload, secret }) => sign(header, { ...payload, sub: '\u0000' }, secret),
    ],
    ['nothing like a token', () => 'abc'],
  ])('is refused: %s', async (_name, forge) => {
    const reply = await api.get('/api/v1/me').set('authorization', `Bearer ${forge(await parts())}`);
    expect(reply.status).toBe(401);
    expect(problem.parse(reply.body).reasons[0]?.code).toBe('session-ended');
  });

  it('without any, the answer is another one', async () => {
    const reply = await api.get('/api/v1/me').expect(401);
    expect(problem.parse(reply.body).reasons[0]?.code).toBe('not-signed-in');
  });
});
