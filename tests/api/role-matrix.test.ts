import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { cookieNames } from '../../server/http/cookies.js';
import { may, PERMISSIONS } from '../../server/members/permissions.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { plainRows } from '../support/plain-rows.js';
import { formTokenOf } from '../support/requests.js';
import { CAST, newMember, type Somebody, somebody, type Who } from '../support/rights/cast.js';
import { NOTHING, PARAMS, ROUTE_RIGHTS, type RouteRight } from '../support/rights/route-rights.js';
import type { Thing, World } from '../support/rights/things.js';

const database = await testDatabase();
const rows = await plainRows(database);
const house = await testHouse(database, { settings: { rateLimits: false } });
const world: World = { house, rows, adminId: await newMember(house, 'admin') };
const server = supertest(house.url);

type Outcome = 'not signed in' | 'not there' | 'not allowed' | 'allowed';

const booked = house.app.routeBook.filter(({ method, open }) => method !== 'HEAD' && !open);
/** Open by nature: files, which say nothing of anybody, stand beside the rooms. */
const closed = booked
  .map(({ method, url }) => `${method} ${url}`)
  .filter((route) => route !== 'GET /assets/*');

describe('the matrix', () => {
  it('has a line for every route that is not open, and none for another', () => {
    expect(Object.keys(ROUTE_RIGHTS).sort()).toEqual([...new Set(closed)].sort());
  });

  it('uses every right that a route could ask for', () => {
    const asked = new Set(Object.values(ROUTE_RIGHTS).flatMap(({ asks, seenBy }) => [asks, seenBy]));
    const unused = Object.keys(PERMISSIONS).filter(
      (action) => !asked.has(action as keyof typeof PERMISSIONS),
    );
    // Rights of rooms that are still to come, and those that only widen what a page shows.
    expect(unused.sort()).toEqual(NOT_ASKED_BY_ROUTES);
  });
});

const NOT_ASKED_BY_ROUTES = [
  'audit-see',
  'bolster-photograph',
  'press-open',
  'sack-keep',
  'sack-see',
  'sack-use',
];

describe.each(Object.entries(ROUTE_RIGHTS))('%s', (route, right) => {
  it('is closed to who is not signed in', async () => {
    for (const make of Object.values(right.things ?? NOTHING)) {
      const thing = await make(world, await somebody(house, 'member'));
      expect(await ask(route, right, thing, null)).toBe('not signed in');
    }
  });

  it.each(Object.keys(CAST) as Who[])('answers a %s as the table says', async (who) => {
    const wanted: { [thing: string]: Outcome } = {};
    const got: { [thing: string]: Outcome } = {};
    for (const [name, make] of Object.entries(right.things ?? NOTHING)) {
      const actor = await somebody(house, who);
      const thing = await make(world, actor);
      wanted[name] = wantedOf(right, actor, thing);
      got[name] = await ask(route, right, thing, actor);
    }
    expect(got).toEqual(wanted);
  });
});

function wantedOf({ asks, seenBy }: RouteRight, actor: Somebody, thing: Thing): Outcome {
  const { subject, seenAs = subject } = thing;
  if (asks === undefined || may(actor, asks, subject)) return 'allowed';
  return seenBy !== undefined && !may(actor, seenBy, seenAs) ? 'not there' : 'not allowed';
}

/** Sends what the route takes, on this thing, as this member. Whether it is then done is for other tests. */
async function ask(route: string, right: RouteRight, thing: Thing, actor: Somebody | null): Promise<Outcome> {
  const [method = '', pattern = ''] = route.split(' ');
  const { params = {} } = thing;
  const path = pattern.replace(/:(\w+)/g, (_, name: string) => params[name] ?? PARAMS[name] ?? '');
  const address = right.query === undefined ? path : `${path}?${right.query(thing)}`;
  const isPage = !pattern.startsWith('/api/');
  const sent = server[method.toLowerCase() as 'get' | 'post' | 'put' | 'patch' | 'delete'](address);
  const body = right.body?.(thing) ?? {};
  if (isPage) {
    const { cookies, _csrf } = actor === null ? { cookies: '', _csrf: '' } : await signedInOnPages(actor);
    sent.set({ cookie: cookies, origin: house.url, 'sec-fetch-site': 'same-origin' });
    if (method === 'POST') sent.type('form').send({ ...body, _csrf });
  } else {
    if (actor !== null) sent.set('authorization', `Bearer ${actor.token}`);
    if (method !== 'GET' && right.body !== undefined) sent.send(body);
  }
  const { status, headers, text } = await sent;
  // What was not understood was not judged either.
  if (status >= 500 || status === 400) {
    throw new Error(`${method} ${address} answered ${status}: ${text.slice(0, 500)}`);
  }
  if (status === 401 || (status === 303 && headers.location?.startsWith('/sign-in?next=') === true)) {
    return 'not signed in';
  }
  if (status === 404) return 'not there';
  return status === 403 ? 'not allowed' : 'allowed';
}

/** The cookies of a browser that has a form open. */
async function signedInOnPages({ token }: Somebody) {
  const { session, csrf } = cookieNames(house.settings);
  const cookie = `${session}=${token}`;
  const reply = await server.get('/account').set('cookie', cookie).expect(200);
  const given = ([] as string[]).concat(reply.headers['set-cookie'] ?? []);
  const csrfCookie = given.find((one) => one.startsWith(`${csrf}=`))?.split(';')[0] ?? '';
  return { cookies: `${cookie}; ${csrfCookie}`, _csrf: formTokenOf(reply.text) };
}
