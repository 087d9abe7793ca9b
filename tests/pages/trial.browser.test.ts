import sharp from 'sharp';
import supertest from 'supertest';
import { beforeAll, expect, it } from 'vitest';
import { closedTrials } from '../../server/runs/store.js';
import { testHouse } from '../support/app.js';
import { errorsOf, follow, openBrowser, PHONE, scrollsSideways, violationsOn } from '../support/browser.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { trialBookedNow } from '../support/opened-trial.js';
import { sampleBody } from '../support/sample-plate.js';
import { signedInMember, TEST_PASSWORD } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const browser = await openBrowser();
const api = supertest(house.url);
const ids = { plate: '', booking: '' };
let wren: Awaited<ReturnType<typeof signedInMember>>;
let odile: Awaited<ReturnType<typeof signedInMember>>;

beforeAll(async () => {
  await furnishPress(database, house.clock.now());
  wren = await signedInMember(house);
  odile = await signedInMember(house, 'steward');
  const plate = await api
    .post('/api/v1/plates')
    .set(wren.headers)
    .send(await sampleBody('tile-spacer-4up', 'Tile spacer, 4 up'));
  ids.plate = plate.body.id;
  await api.get(`/api/v1/plates/${ids.plate}/revisions/1/check?polymer=PP`).set(wren.headers).expect(200);
  await clearPlate(house, { plateId: ids.plate, through: 'fit' });
  ids.booking = await trialBookedNow(house, { memberId: wren.member.id, plateId: ids.plate }, 180);
});

async function signIn(email: string, javaScriptEnabled = true) {
  const context = await browser.newContext({ baseURL: house.url, viewport: PHONE, javaScriptEnabled });
  const errors = errorsOf(context);
  const page = await context.newPage();
  await page.goto('/sign-in');
  await page.getByLabel('E-mail').fill(email);
  await page.getByLabel('Password').fill(TEST_PASSWORD);
  await follow(page.locator('main').getByRole('button', { name: /Sign in/ }));
  return { page, errors };
}

it('leads a trial by phone and without script, from the ticks to its clearance', async () => {
  const { page, errors } = await signIn(wren.member.email, false);
  await page.goto('/');
  await follow(page.getByRole('link', { name: 'Open now' }));
  const lines = [
    'The area is clear',
    'Guards and interlocks work',
    'The emergency stop stops it',
    'Hoses and cables are sound',
  ];
  for (const line of lines) await page.getByLabel(line).check();
  await page.getByLabel('Within call, a member').selectOption({ label: odile.member.displayName });
  await page.getByLabel('Attended by').selectOption({ label: odile.member.displayName });
  await follow(page.getByRole('button', { name: 'Open the trial' }));
  expect(await page.getByRole('alert').textContent()).toContain('Nothing leaks');
  expect(await page.getByLabel('Hoses and cables are sound').isChecked()).toBe(true);
  await page.getByLabel('Nothing leaks').check();
  await follow(page.getByRole('button', { name: 'Open the trial' }));

  await page.getByRole('heading', { name: /Close gently, without melt/ }).waitFor();
  expect(await scrollsSideways(page)).toBe(false);
  await page.getByLabel('closes evenly all round').check();
  await follow(page.getByRole('button', { name: 'As it should be: next step' }));
  await page.getByRole('heading', { name: /Short shot, 50 % of the estimate/ }).waitFor();
  // 12.03 mm of way for the whole shot: 6.0 mm for half of it.
  expect(await page.getByLabel('Screw forward').inputValue()).toBe('6.0');
  await page.getByLabel('Screw forward').fill('6,4');
  await page.getByLabel('In words').fill('The left two lag a little.');
  const photograph = sharp({ create: { width: 640, height: 480, channels: 3, background: '#8899aa' } });
  await page
    .getByLabel('Photograph')
    .setInputFiles({ name: 'short.jpg', mimeType: 'image/jpeg', buffer: await photograph.jpeg().toBuffer() });
  await follow(page.getByRole('button', { name: 'Not yet: the same step again' }));
  expect(await page.getByLabel('Screw forward').inputValue()).toBe('6.4');
  await follow(page.getByRole('button', { name: 'Back to the step before' }));
  await page.getByRole('heading', { name: /Close gently/ }).waitFor();
  const kept = page.getByRole('row', { name: /The left two lag a little/ });
  expect(await kept.textContent()).toContain('done again');
  const address = await kept.getByRole('link', { name: /See it/ }).getAttribute('href');
  expect((await page.request.get(address ?? '')).headers()['content-type']).toContain('image/jpeg');

  const next = page.getByRole('button', { name: 'As it should be: next step' });
  while ((await page.getByRole('heading', { name: /More clamp force/ }).count()) === 0) {
    // The first of what can be ticked is how it should be.
    await page.getByRole('checkbox').first().check();
    await follow(next);
  }
  await page.getByLabel('Runs well').check();
  await follow(page.getByRole('button', { name: 'Close the run' }));
  expect(await page.getByRole('status').textContent()).toContain('The run is closed.');
  expect(await page.getByRole('button', { name: 'Close the run' }).count()).toBe(0);
  expect(errors).toEqual([]);

  const [run] = await closedTrials(database, ids.plate);
  expect(run?.outcome).toBe('runs-well');
  await api
    .post(`/api/v1/plates/${ids.plate}/revisions/1/clearance`)
    .set(odile.headers)
    .send({ step: 'trial', decision: 'clear', trialRunId: run?.id })
    .expect(201);
});

it('prints the trial sheet on at most two pages, with the code that leads back', async () => {
  const { page } = await signIn(odile.member.email);
  await page.goto(`/bookings/${ids.booking}/trial-sheet`);
  expect(await violationsOn(page)).toEqual([]);
  expect(await scrollsSideways(page)).toBe(false);
  await page.getByRole('img', { name: /QR code/ }).waitFor();
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  expect(pdf.match(/\/Type \/Page\b(?!s)/g)?.length).toBeLessThanOrEqual(2);
});

it('takes a near miss from the foot of any page to its answer', async () => {
  const member = await signIn(wren.member.email);
  await member.page.goto('/week');
  await follow(member.page.getByRole('link', { name: 'Near miss', exact: true }));
  expect(await violationsOn(member.page)).toEqual([]);
  expect(await member.page.getByText('call for help').isVisible()).toBe(true);
  await member.page.getByLabel('What happened').fill('The purge guard was open while I purged.');
  await member.page.getByLabel('Where').fill('Press, nozzle');
  await member.page.getByLabel('Nobody was hurt').check();
  await follow(member.page.getByRole('button', { name: 'Tell the stewards' }));
  const steward = await signIn(odile.member.email);
  await steward.page.goto('/desk');
  const row = steward.page.getByRole('listitem').filter({ hasText: 'Press, nozzle' });
  await follow(row.getByRole('link', { name: 'Read it' }));
  await steward.page
    .getByRole('textbox', { name: 'What was done' })
    .fill('Interlock of the purge guard repaired.');
  await follow(steward.page.getByRole('button', { name: 'Answer' }));
  await member.page.reload();
  expect(await member.page.getByText('Interlock of the purge guard repaired.').isVisible()).toBe(true);
  expect([...member.errors, ...steward.errors]).toEqual([]);
});
