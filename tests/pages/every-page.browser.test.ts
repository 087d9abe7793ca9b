import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import supertest from 'supertest';
import { beforeAll, describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { openBrowser, PHONE, scrollsSideways, violationsOn, WIDE } from '../support/browser.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { askForWitness } from '../support/inductions.js';
import { openedTrial } from '../support/opened-trial.js';
import { visitorOf } from '../support/requests.js';
import { sampleBody } from '../support/sample-plate.js';
import { bearerOf, makeMember, signedInMember, TEST_PASSWORD } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const browser = await openBrowser();
const ids = {
  plate: '',
  booking: '',
  member: '',
  invitation: '',
  reset: '',
  signOff: '',
  witness: '',
  card: '',
  bolster: '',
  otherBolster: '',
  packer: '',
  trial: '',
  run: '',
  nearMiss: '',
  damage: '',
  grade: '',
};
type Who = 'signedOut' | 'signedIn' | 'admin';
const open: { [who in Who]?: BrowserContext } = {};

beforeAll(async () => {
  const furnished = await furnishPress(database, house.clock.now());
  ids.bolster = furnished.bolsterId;
  ids.otherBolster = furnished.keyedBolsterId;
  const member = await makeMember(house);
  const headers = await bearerOf(house, member);
  const api = supertest(house.url);
  const plate = await api
    .post('/api/v1/plates')
    .set(headers)
    .send(await sampleBody('tile-spacer-4up', 'Spacer'));
  ids.plate = plate.body.id;
  await clearPlate(house, { plateId: plate.body.id });
  const startsAt = new Date(house.clock.now().getTime() + 3 * 86_400_000);
  startsAt.setUTCHours(13, 0, 0, 0);
  const endsAt = new Date(startsAt.getTime() + 3_600_000);
  const booking = await api
    .post('/api/v1/bookings')
    .set(headers)
    .send({ plateId: ids.plate, revision: 1, polymer: 'PP', startsAt, endsAt });
  ids.booking = booking.body.id;
  const trial = await openedTrial(house, { memberId: member.id, headers, plateId: ids.plate });
  ids.trial = trial.bookingId;
  ids.run = trial.runId;
  const nearMiss = await api
    .post('/api/v1/near-misses')
    .set(headers)
    .send({ place: 'Press', what: 'A hose burst.', hurt: 'nobody' });
  ids.nearMiss = nearMiss.body.id;
  const damage = await api
    .post(`/api/v1/bolsters/${ids.bolster}/damage`)
    .set(headers)
    .send({ half: 'moving', xMm: 12, yMm: -30, what: 'A dent, 2 mm wide.' });
  ids.damage = damage.body.id;
  await api
    .post(`/api/v1/plates/${ids.plate}/damage`)
    .set(headers)
    .send({ xMm: 5, yMm: 5, what: 'A scratch on the land.' });
  const admin = await signedInMember(house, 'admin');
  ids.member = member.id;
  const packer = await api.post('/api/v1/stack-parts').set(admin.headers).send({
    kind: 'packer',
    name: 'Packer 8',
    thicknessMm: 8,
    widthMm: 150,
    heightMm: 120,
    material: 'steel',
  });
  ids.packer = packer.body.id;
  const invitation = await api
    .post('/api/v1/invitations')
    .set(admin.headers)
    .send({ email: 'jory@gullwing.example', displayName: 'Jory' });
  ids.invitation = new URL(invitation.body.link).pathname;
  const reset = await api.post(`/api/v1/members/${member.id}/password-reset`).set(admin.headers);
  ids.reset = new URL(reset.body.link).pathname;
  const steward = await signedInMember(house, 'steward');
  const grade = await api
    .post('/api/v1/grades')
    .set(steward.headers)
    .send({ name: 'Ferry PP 12', polymer: 'PP', sheetTitle: 'Ferry PP 12', sheetDate: '2020-03-01' });
  ids.grade = grade.body.id;
  const signOffs = await api.get('/api/v1/signoffs').set(headers);
  ids.signOff = signOffs.body.items[0].id;
  ids.witness = await askForWitness(house, headers, 'drying-oven');
  const cardholder = visitorOf(house);
  await cardholder.signIn(member);
  await cardholder.submit('/inductions/card', '/inductions/card');
  const [card] = await database.query<{ code: string }>('select code from induction_card');
  ids.card = card?.code ?? '';
  open.signedOut = await browser.newContext({ baseURL: house.url });
  open.signedIn = await signedInContext(member.email);
  open.admin = await signedInContext(admin.member.email);
});

async function signedInContext(email: string): Promise<BrowserContext> {
  const context = await browser.newContext({ baseURL: house.url });
  const page = await context.newPage();
  await page.goto('/sign-in');
  await page.getByLabel('E-mail').fill(email);
  await page.getByLabel('Password').fill(TEST_PASSWORD);
  await page
    .locator('main')
    .getByRole('button', { name: /Sign in/ })
    .click();
  await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'));
  await page.close();
  return context;
}

/** An address for every page of the house, in the order of its routes. */
const ADDRESSES: { readonly [route: string]: () => string } = {
  '/': () => '/',
  '/api': () => '/api',
  '/problems': () => '/problems',
  '/problems/:code': () => '/problems/press-taken',
  '/parts': () => '/parts',
  '/cautions': () => '/cautions',
  '/sign-in': () => '/sign-in',
  '/first-run/:token': () => house.firstRunPath ?? '/first-run/spent',
  '/account': () => '/account',
  '/account/leave': () => '/account/leave',
  '/members': () => '/members',
  '/members/invite': () => '/members/invite',
  '/members/import': () => '/members/import',
  '/members/:id': () => `/members/${ids.member}`,
  '/members/:id/leave': () => `/members/${ids.member}/leave`,
  '/invitation/:token': () => ids.invitation,
  '/reset/:token': () => ids.reset,
  '/desk': () => '/desk',
  '/resins': () => '/resins',
  '/resins/new': () => '/resins/new',
  '/resins/:id': () => `/resins/${ids.grade}`,
  '/resins/:id/revise': () => `/resins/${ids.grade}/revise`,
  '/press': () => '/press',
  '/press/change': () => '/press/change',
  '/bolsters/new': () => '/bolsters/new',
  '/bolsters/:id': () => `/bolsters/${ids.bolster}`,
  '/bolsters/:id/change': () => `/bolsters/${ids.bolster}/change`,
  '/bolsters/:id/mounting': () => `/bolsters/${ids.otherBolster}/mounting`,
  '/stock': () => '/stock',
  '/stock/:id': () => `/stock/${ids.packer}`,
  '/shop-rules': () => '/shop-rules',
  '/shop-rules/change': () => '/shop-rules/change',
  '/notices': () => '/notices',
  '/trail': () => '/trail',
  '/inductions': () => '/inductions',
  '/inductions/card': () => '/inductions/card',
  '/inductions/declare-anew': () => '/inductions/declare-anew',
  '/inductions/declaration': () => '/inductions/declaration',
  '/inductions/history/:id': () => `/inductions/history/${ids.member}`,
  '/inductions/new': () => '/inductions/new',
  '/inductions/sign-offs/:id/revoke': () => `/inductions/sign-offs/${ids.signOff}/revoke`,
  '/inductions/witness': () => '/inductions/witness',
  '/inductions/witness/:id': () => `/inductions/witness/${ids.witness}`,
  '/inductions/:competence': () => '/inductions/press-operation',
  '/inductions/:competence/edit': () => '/inductions/press-operation/edit',
  '/inductions/:competence/:part': () => '/inductions/press-operation/3',
  '/verify': () => '/verify',
  '/verify/:code': () => `/verify/${ids.card}`,
  '/check': () => '/check?sample=board-counter-8up',
  '/bolsters/:id/damage': () => `/bolsters/${ids.bolster}/damage`,
  '/plates/:id/damage': () => `/plates/${ids.plate}/damage`,
  '/damage/:id': () => `/damage/${ids.damage}`,
  '/plates/:id/history': () => `/plates/${ids.plate}/history`,
  '/library': () => '/library',
  '/library/labels': () => `/library/labels?plate=${ids.plate}`,
  '/plates/:id/label': () => `/plates/${ids.plate}/label`,
  '/plates': () => '/plates',
  '/plates/:id': () => `/plates/${ids.plate}`,
  '/plates/submit': () => '/plates/submit',
  '/plates/:id/compare': () => `/plates/${ids.plate}/compare?toPolymer=ABS`,
  '/plates/:id/revisions/:revision/cutting-list': () => `/plates/${ids.plate}/revisions/1/cutting-list`,
  '/plates/:id/clearance': () => `/plates/${ids.plate}/clearance`,
  '/plates/:id/clearance/fit': () => `/plates/${ids.plate}/clearance/fit`,
  '/plates/:id/clearance/trial': () => `/plates/${ids.plate}/clearance/trial`,
  '/plates/:id/clearance/production': () => `/plates/${ids.plate}/clearance/production?polymer=ABS`,
  '/week': () => '/week',
  '/bookings': () => '/bookings',
  '/bookings/all': () => '/bookings/all',
  '/bookings/new': () => '/bookings/new',
  '/bookings/:id': () => `/bookings/${ids.booking}`,
  '/bookings/:id/cancel': () => `/bookings/${ids.booking}/cancel`,
  '/bookings/:id/run': () => `/bookings/${ids.trial}/run`,
  '/bookings/:id/trial-sheet': () => `/bookings/${ids.trial}/trial-sheet`,
  '/runs': () => '/runs',
  '/runs/:id': () => `/runs/${ids.run}`,
  '/near-miss': () => '/near-miss',
  '/near-misses': () => '/near-misses',
  '/near-misses/:id': () => `/near-misses/${ids.nearMiss}`,
};

/** Sheets that a member alone would not see. */
const FOR_ADMINS = [
  /^\/members/,
  /^\/inductions/,
  /^\/verify/,
  /^\/desk/,
  /^\/shop-rules/,
  /^\/press/,
  /^\/bolsters/,
  /^\/stock/,
  /^\/notices/,
  /^\/trail/,
  /\/clearance/,
  /^\/damage/,
];

/** GET routes that answer with something other than a sheet. */
const NOT_SHEETS = [
  /^\/photographs\/:id$/,
  /^\/api\/v1\//,
  /^\/health\//,
  /\*$/,
  /^\/plates\/:id\/revisions\/:revision\/drawing$/,
];

it('has an address here for every page of the house', () => {
  const pages = house.app.routeBook
    .filter(({ method, url }) => method === 'GET' && !NOT_SHEETS.some((pattern) => pattern.test(url)))
    .map(({ url }) => url);
  expect([...new Set(pages)].sort()).toEqual(Object.keys(ADDRESSES).sort());
});

describe.each(Object.keys(ADDRESSES))('%s', (route) => {
  const forAdmins = FOR_ADMINS.some((pattern) => pattern.test(route));
  it.each(['signedOut', 'signedIn', ...(forAdmins ? ['admin' as const] : [])] as const)(
    'meets WCAG 2.2 AA and never scrolls sideways, %s',
    async (who) => {
      await lookAt(who, async (page) => {
        await page.goto(ADDRESSES[route]?.() ?? '/');
      });
    },
  );
});

/** Sends a form past the browser's own checks, as a page without them would. */
const SEND = "document.getElementById('check-form').submit()";

/** Pages that tell of something wrong. */
const ERRORS: {
  readonly [what: string]: readonly [Who, (page: Page) => Promise<unknown>];
} = {
  'no such page': ['signedOut', (page) => page.goto('/no-such-page')],
  'a plate of somebody else': [
    'signedIn',
    (page) => page.goto('/plates/00000000-0000-4000-8000-000000000000'),
  ],
  'a spent founding link': ['signedOut', (page) => page.goto('/first-run/spent')],
  'a check without a drawing': [
    'signedOut',
    async (page) => {
      await page.goto('/check');
      await Promise.all([page.waitForNavigation(), page.evaluate(SEND)]);
    },
  ],
  'a drawing turned away': [
    'signedOut',
    async (page) => {
      await page.goto('/check');
      await page.setInputFiles('input[name=dxf]', join('tests', 'samples', 'open-contour.dxf'));
      await Promise.all([
        page.waitForNavigation(),
        page.getByRole('button', { name: 'Check', exact: true }).click(),
      ]);
    },
  ],
  'a thickness that is none': [
    'signedOut',
    async (page) => {
      await page.goto('/check?sample=tile-spacer-4up');
      await page.getByRole('textbox', { name: 'Thickness' }).fill('12 inch');
      await Promise.all([
        page.waitForNavigation(),
        page.getByRole('button', { name: 'Check', exact: true }).click(),
      ]);
    },
  ],
  'a wrong password': [
    'signedOut',
    async (page) => {
      await page.goto('/sign-in');
      await page.getByLabel('E-mail').fill('nobody@gullwing.example');
      await page.getByLabel('Password').fill('not the password');
      await Promise.all([
        page.waitForNavigation(),
        page
          .locator('main')
          .getByRole('button', { name: /Sign in/ })
          .click(),
      ]);
    },
  ],
  'a spent invitation': ['signedOut', (page) => page.goto('/invitation/spent')],
  'an invitation without an address': [
    'admin',
    async (page) => {
      await page.goto('/members/invite');
      await page.getByLabel('Name that others see').fill('Jory');
      await page.getByLabel('E-mail address').fill('jory@');
      await Promise.all([
        page.waitForNavigation(),
        page.evaluate("document.querySelector('main form').submit()"),
      ]);
    },
  ],
  'a link as it is handed over': [
    'admin',
    async (page) => {
      await page.goto(`/members/${ids.member}`);
      await Promise.all([
        page.waitForNavigation(),
        page.getByRole('button', { name: 'Make a link for a new password' }).click(),
      ]);
    },
  ],
  'a table of members with bad lines': [
    'admin',
    async (page) => {
      await page.goto('/members/import');
      const buffer = Buffer.from('name,email\nNuria,nuria@gullwing.example\nPetra,petra at gullwing');
      await page.setInputFiles('input[name=table]', { name: 'people.csv', mimeType: 'text/csv', buffer });
      await Promise.all([page.waitForNavigation(), page.getByRole('button', { name: 'Look at it' }).click()]);
    },
  ],
  'a booking refused': [
    'signedIn',
    async (page) => {
      await page.goto('/bookings/new');
      await page.getByLabel('Day').fill('2020-01-01');
      await page.getByLabel('From').fill('03:00');
      await page.getByLabel('To', { exact: true }).fill('02:00');
      await Promise.all([
        page.waitForNavigation(),
        page.getByRole('button', { name: 'Book the press' }).click(),
      ]);
    },
  ],
};

it.each(Object.entries(ERRORS))('tells of %s so that everybody can read it', async (_what, [who, go]) => {
  await lookAt(who, go);
});

async function lookAt(who: Who, go: (page: Page) => Promise<unknown>): Promise<void> {
  const page = await open[who]?.newPage();
  if (page === undefined) throw new Error('The browser did not open.');
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    await page.setViewportSize(WIDE);
    await go(page);
    expect(await violationsOn(page)).toEqual([]);
    for (const width of [WIDE, PHONE, { width: 320, height: 700 }]) {
      await page.setViewportSize(width);
      expect({ width: width.width, sideways: await scrollsSideways(page) }).toEqual({
        width: width.width,
        sideways: false,
      });
    }
    await page.setViewportSize(PHONE);
    expect(await violationsOn(page)).toEqual([]);
  }
  await page.close();
}
