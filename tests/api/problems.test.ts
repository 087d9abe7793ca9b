import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { problem } from '../../server/http/problem.js';
import { REASON_CODES } from '../../server/reasons.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf } from '../support/requests.js';
import { bearerOf, makeMember, TEST_PASSWORD } from '../support/sign-in.js';

const house = await testHouse(await testDatabase());
const api = supertest(house.url);
const session = () => api.post('/api/v1/session');

describe('what is not understood', () => {
  it.each<[string, string, number, string]>([
    ['a body that is not JSON', '{"email": ', 400, 'body-not-understood'],
    ['an empty body', '', 400, 'body-not-understood'],
    ['a body that is a number', '7', 400, 'body-not-understood'],
    ['a body that is a list', '[]', 400, 'body-not-understood'],
    ['null', 'null', 400, 'body-not-understood'],
    ['a prototype in disguise', '{"__proto__": {"role": "admin"}}', 400, 'body-not-understood'],
    ['a missing field', '{"email": "a@b.example"}', 400, 'field-invalid'],
    ['a field of another type', '{"email": 7, "password": "x"}', 400, 'field-invalid'],
    ['a NUL', '{"email": "a\\u0000@b.example", "password": "x"}', 400, 'field-invalid'],
    ['half a surrogate pair', '{"email": "a\\ud800@b.example", "password": "x"}', 400, 'field-invalid'],
    ['a field that is too long', `{"email": "${'a'.repeat(255)}", "password": "x"}`, 400, 'field-invalid'],
  ])('%s', async (_name, body, status, code) => {
    const reply = await session().set('content-type', 'application/json').send(body);
    expect(reply.status).toBe(status);
    expect(reply.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    expect(codesOf(reply)).toEqual([code]);
  });

  it('names every field that is wrong', async () => {
    const reply = await session().send({ email: '', password: 7 }).expect(400);
    const { reasons, detail } = problem.parse(reply.body);
    expect(reasons.map(({ field }) => field)).toEqual(['email', 'password']);
    for (const { message } of reasons) expect(detail).toContain(message);
  });

  it.each([
    ['text', 'text/plain', 'email=a'],
    ['XML', 'application/xml', '<a/>'],
    ['a form', 'application/x-www-form-urlencoded', 'email=a&password=b'],
    ['a multipart form', 'multipart/form-data; boundary=x', '--x--'],
  ])('another form: %s', async (_name, type, body) => {
    const reply = await session().set('content-type', type).send(body).expect(415);
    expect(codesOf(reply)).toEqual(['media-type-unsupported']);
  });

  it('a body that is too large', async () => {
    const reply = await session()
      .send({ email: 'a'.repeat(1024 * 1024), password: 'x' })
      .expect(413);
    expect(codesOf(reply)).toEqual(['upload-too-large']);
    await session().send({ email: 'nobody@gullwing.example', password: 'x' }).expect(401);
  });
});

describe('what is not there', () => {
  it.each(['/api/v1/nowhere', '/api/v1/', '/api/v1/me/', '/api/v1/%zz', '/api/v1/%00'])(
    '%s',
    async (path) => {
      const reply = await api.get(path).expect(404);
      expect(codesOf(reply)).toEqual(['not-found']);
    },
  );

  it.each<['put' | 'patch' | 'post' | 'delete' | 'options', string, string]>([
    ['put', '/api/v1/me', 'GET, HEAD, PATCH'],
    ['delete', '/api/v1/bolsters', 'GET, HEAD, POST'],
    ['patch', '/api/v1/session', 'DELETE, POST'],
    ['options', '/api/v1/session', 'DELETE, POST'],
  ])('%s %s', async (method, path, allow) => {
    const reply = await api[method](path).expect(405);
    expect(codesOf(reply)).toEqual(['method-not-allowed']);
    expect(reply.headers.allow).toBe(allow);
  });
});

describe('a page', () => {
  it('that is not there helps to go on', async () => {
    const reply = await api.get('/nowhere').set('accept', 'text/html').expect(404);
    expect(reply.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(reply.text).toContain('What to do');
    expect(reply.text).toContain('href="/check"');
  });

  it('keeps what was in the address out of its markup', async () => {
    const reply = await api.get('/problems/%3Cscript%3Ealert(1)%3C%2Fscript%3E').expect(404);
    expect(reply.text).not.toContain('alert(1)');
  });

  it.each(['/problems', '/api', '/cautions', '/', '/sign-in'])('%s is there for strangers', async (path) => {
    await api.get(path).expect(200);
  });

  it('stands behind the type of every problem', async () => {
    for (const code of REASON_CODES) {
      const { text } = await api.get(`/problems/${code}`).expect(200);
      expect(text).toContain(`<h1>${code}</h1>`);
    }
  });
});

describe('a fault of ours', async () => {
  const broken = await testHouse(house.database);
  const secret = 'a secret that must not leave';

  it('is told by a fixed sentence and nothing else', async () => {
    const member = await makeMember(broken);
    const headers = await bearerOf(broken, member);
    const { query } = broken.database;
    broken.database.query = async (sql, values) => {
      if (sql.includes('from session')) throw new Error(secret);
      return query(sql, values);
    };
    const reply = await supertest(broken.url).get('/api/v1/me').set(headers);
    const page = await supertest(broken.url)
      .get('/account')
      .set('cookie', `ps-session=${headers.authorization.slice('Bearer '.length)}`);
    broken.database.query = query;
    expect(reply.status).toBe(500);
    expect(codesOf(reply)).toEqual(['something-broke']);
    expect(JSON.stringify(reply.body)).not.toContain(secret);
    expect(page.status).toBe(500);
    expect(page.text).toContain('Something broke');
    expect(page.text).not.toContain(secret);
    await supertest(broken.url).get('/api/v1/me').set(headers).expect(200);
  });
});

it('a password is never said back', async () => {
  const reply = await session()
    .send({ email: 'nobody@gullwing.example', password: TEST_PASSWORD })
    .expect(401);
  expect(JSON.stringify(reply.body)).not.toContain(TEST_PASSWORD);
});
