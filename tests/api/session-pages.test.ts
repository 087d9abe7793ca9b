import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf, formTokenOf, visitorOf } from '../support/requests.js';
import { makeMember, TEST_PASSWORD } from '../support/sign-in.js';

const house = await testHouse(await testDatabase(), { settings: { sessionIdleMinutes: 60 } });

async function signedInVisitor() {
  const member = await makeMember(house);
  const visitor = visitorOf(house);
  await visitor.signIn(member);
  return { member, visitor };
}

describe('the sign-in page', () => {
  it('signs in with a cookie that scripts cannot read, and goes on to where one was sent from', async () => {
    const { email } = await makeMember(house);
    const visitor = visitorOf(house);
    const away = await visitor.get('/account').expect(303);
    expect(away.headers.location).toBe('/sign-in?next=%2Faccount');
    const reply = await visitor.submit('/sign-in?next=%2Faccount', '/sign-in', {
      email,
      password: TEST_PASSWORD,
      next: '/account',
    });
    expect(reply.status).toBe(303);
    expect(reply.headers.location).toBe('/account');
    expect(String(reply.headers['set-cookie'])).toMatch(/ps-session=[^;]+;.*HttpOnly; SameSite=Lax/);
    await visitor.get('/account').expect(200);
  });

  it('shows a wrong password with the form filled in, and no word on which was wrong', async () => {
    const { email } = await makeMember(house);
    const visitor = visitorOf(house);
    const reply = await visitor.submit('/sign-in', '/sign-in', { email, password: 'not this one' });
    expect(reply.status).toBe(401);
    expect(reply.text).toContain('do not belong together');
    expect(reply.text).toContain(`value="${email}"`);
    expect(reply.text).not.toContain('not this one');
  });

  it('names the fields that are empty', async () => {
    const reply = await visitorOf(house).submit('/sign-in', '/sign-in', { email: '', password: '' });
    expect(reply.status).toBe(422);
    expect(reply.text).toContain('Two things to put right');
    expect(reply.text).toContain('href="#email"');
    expect(reply.text).toContain('href="#password"');
  });

  it.each([
    ['//evil.example/x'],
    ['/\\evil.example'],
    ['https://evil.example/'],
    ['/\t/evil.example'],
    ['javascript:alert(1)'],
    ['/..//evil.example'],
  ])('never goes on to another site: %j', async (next) => {
    const { email } = await makeMember(house);
    const reply = await visitorOf(house).submit('/sign-in', '/sign-in', {
      email,
      password: TEST_PASSWORD,
      next,
    });
    expect(reply.status).toBe(303);
    expect(reply.headers.location).toBe('/');
  });
});

describe('the account page', () => {
  it('shows who one is and ends other sessions', async () => {
    const { member, visitor } = await signedInVisitor();
    const phone = visitorOf(house);
    await phone.signIn(member);
    expect((await visitor.get('/account')).text).toContain('Another browser');
    const reply = await visitor.submit('/account', '/account/sign-out-elsewhere');
    expect(reply.status).toBe(303);
    await phone.get('/account').expect(303);
    const { text } = await visitor.get('/account').expect(200);
    expect(text).toContain(member.email);
    expect(text).not.toContain('Another browser');
  });

  it('keeps the chosen tone in a cookie', async () => {
    const { visitor } = await signedInVisitor();
    await visitor.submit('/account', '/account/theme', { theme: 'dark' });
    expect((await visitor.get('/account')).text).toContain('<html lang="en" data-theme="dark">');
    await visitor.submit('/account', '/account/theme', { theme: 'auto' });
    expect((await visitor.get('/account')).text).toContain('<html lang="en">');
  });

  it('is never kept by a browser or a proxy, and signing out clears what was', async () => {
    const { visitor } = await signedInVisitor();
    expect((await visitor.get('/account')).headers['cache-control']).toBe('no-store');
    const reply = await visitor.submit('/account', '/sign-out');
    expect(reply.headers['clear-site-data']).toContain('"cache"');
    await visitor.get('/account').expect(303);
  });

  it('ends with the session, idle as elsewhere', async () => {
    const { visitor } = await signedInVisitor();
    house.clock.turn(60);
    const reply = await visitor.get('/account').expect(303);
    expect(reply.headers.location).toBe('/sign-in?next=%2Faccount');
  });
});

describe('a form is taken only from our own pages', () => {
  const tokenOf = async (visitor: ReturnType<typeof visitorOf>) =>
    formTokenOf((await visitor.get('/account').expect(200)).text);

  it.each([
    ['another site, as the browser says', { 'sec-fetch-site': 'cross-site' }, 403],
    ['a sister host', { 'sec-fetch-site': 'same-site' }, 403],
    ['another origin', { origin: 'http://evil.example' }, 403],
    ['a page that hides its origin', { origin: 'null' }, 403],
    ['no word on where from', { origin: '', 'sec-fetch-site': '' }, 403],
    ['our own page', {}, 303],
    ['our own page over plain http, where no Sec-Fetch-Site is sent', { 'sec-fetch-site': '' }, 303],
  ])('from %s', async (_name, headers, status) => {
    const { visitor } = await signedInVisitor();
    const _csrf = await tokenOf(visitor);
    const request = visitor.post('/account/sign-out-elsewhere', { _csrf }, {});
    for (const [name, value] of Object.entries(headers)) {
      if (value === '') request.unset(name);
      else request.set(name, value);
    }
    const reply = await request;
    expect(reply.status).toBe(status);
    if (status === 403) expect(reply.text).toContain('did not come from this site');
  });

  it.each([
    ['no token', async () => ({})],
    ['a made-up token', async () => ({ _csrf: 'abcdefgh-made-up' })],
    [
      'the token of another member',
      async () => ({ _csrf: await tokenOf((await signedInVisitor()).visitor) }),
    ],
  ])('with %s it is refused', async (_name, fields) => {
    const { visitor } = await signedInVisitor();
    await visitor.get('/account');
    await visitor.post('/account/sign-out-elsewhere', await fields()).expect(403);
  });

  it('with the token from before signing in it is refused', async () => {
    const member = await makeMember(house);
    const visitor = visitorOf(house);
    const before = formTokenOf((await visitor.get('/sign-in')).text);
    await visitor.signIn(member);
    await visitor.post('/account/sign-out-elsewhere', { _csrf: before }).expect(403);
  });

  it('signing in needs the token as well', async () => {
    const { email } = await makeMember(house);
    await visitorOf(house).post('/sign-in', { email, password: TEST_PASSWORD }).expect(403);
  });
});

describe('the API with the cookie alone', () => {
  const cookieOf = async () => {
    const member = await makeMember(house);
    const agent = supertest.agent(house.url);
    const page = await agent.get('/sign-in');
    await agent
      .post('/sign-in')
      .type('form')
      .set('origin', house.url)
      .send({ _csrf: formTokenOf(page.text), email: member.email, password: TEST_PASSWORD })
      .expect(303);
    return { agent, token: formTokenOf((await agent.get('/account')).text) };
  };

  it('reads', async () => {
    const { agent } = await cookieOf();
    await agent.get('/api/v1/me').expect(200);
  });

  it.each([
    ['without a token', { 'sec-fetch-site': 'same-origin' }, false],
    ['from another site even with the token', { 'sec-fetch-site': 'cross-site' }, true],
    ['without a word on where from', {}, true],
  ])('changes nothing %s', async (_name, headers, withToken) => {
    const { agent, token } = await cookieOf();
    const reply = await agent
      .delete('/api/v1/session')
      .set(headers)
      .set(withToken ? { 'x-csrf-token': token } : {});
    expect(reply.status).toBe(403);
    expect(codesOf(reply)).toEqual(['form-not-ours']);
    await agent.get('/api/v1/me').expect(200);
  });

  it('changes with both', async () => {
    const { agent, token } = await cookieOf();
    await agent
      .delete('/api/v1/session')
      .set({ 'sec-fetch-site': 'same-origin', 'x-csrf-token': token })
      .expect(204);
    await agent.get('/api/v1/me').expect(401);
  });
});

describe('where the public address is https', async () => {
  const secure = await testHouse(house.database, { settings: { publicUrl: 'https://press.example.org' } });

  it('cookies are pinned to the host, and https is told for a year', async () => {
    const { email } = await makeMember(house);
    const page = await supertest(secure.url).get('/sign-in');
    const [csrf = ''] = page.headers['set-cookie'] as unknown as string[];
    expect(csrf).toMatch(/^__Host-ps-csrf=[^;]+; Path=\/; HttpOnly; Secure; SameSite=Lax$/);
    expect(page.headers['strict-transport-security']).toBe('max-age=31536000; includeSubDomains');
    const send = (origin: string) =>
      supertest(secure.url)
        .post('/sign-in')
        .type('form')
        .set({ origin, cookie: csrf.split(';')[0] ?? '' })
        .send({ _csrf: formTokenOf(page.text), email, password: TEST_PASSWORD });
    const reply = await send('https://press.example.org').expect(303);
    expect(String(reply.headers['set-cookie'])).toMatch(/__Host-ps-session=[^;]+; Path=\/;.*Secure/);
    await send(secure.url).expect(403);
  });
});
