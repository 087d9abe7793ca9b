import type { Locator, Page } from 'playwright-core';
import supertest from 'supertest';
import { beforeAll, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { errorsOf, openBrowser, violationsOn, WIDE } from '../support/browser.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { rightAnswers } from '../support/inductions.js';
import { sampleBody } from '../support/sample-plate.js';
import { signedInMember, TEST_PASSWORD } from '../support/sign-in.js';

const DAY_MS = 86_400_000;
const database = await testDatabase();
const house = await testHouse(database);
const browser = await openBrowser();
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');
const odile = await signedInMember(house, 'steward');

beforeAll(async () => {
  await furnishPress(database, house.clock.now());
});

/** More than any sheet has stops. */
const STOPS_MAX = 120;

/** Moves on with the Tab key until the control has the focus, as somebody without a pointer does. */
async function reach(control: Locator): Promise<void> {
  const page = control.page();
  for (let stop = 0; stop < STOPS_MAX; stop++) {
    if ((await control.and(page.locator(':focus')).count()) > 0) return;
    await page.keyboard.press('Tab');
  }
  throw new Error('The Tab key does not lead there.');
}

async function type(control: Locator, words: string): Promise<void> {
  await reach(control);
  await control.page().keyboard.type(words);
}

/** Reaches a link or button and presses it; waits for the page it leads to, which nothing is wrong with. */
async function press(control: Locator): Promise<void> {
  const page = control.page();
  await reach(control);
  await Promise.all([page.waitForNavigation(), page.keyboard.press('Enter')]);
  expect(await violationsOn(page)).toEqual([]);
}

const button = (page: Page, name: string | RegExp) => page.locator('main').getByRole('button', { name });
const link = (page: Page, name: string | RegExp) => page.locator('main').getByRole('link', { name });

/** Picks one of the radios called `name`, by the arrow keys. */
async function choose(page: Page, name: string, place: number): Promise<void> {
  await reach(page.locator(`#${name}-0`));
  await page.keyboard.press('Space');
  for (let i = 0; i < place; i++) await page.keyboard.press('ArrowDown');
  expect(await page.locator(`#${name}-${place}`).isChecked()).toBe(true);
}

async function signIn(page: Page, email: string): Promise<void> {
  await page.goto('/sign-in');
  await type(page.getByLabel('E-mail'), email);
  await type(page.getByLabel('Password'), TEST_PASSWORD);
  await press(button(page, /Sign in/));
}

/** Reads and answers every part rightly, the first one wrongly before, and asks for a witness. */
async function study(page: Page, competence: string, title: string): Promise<void> {
  const { parts } = await rightAnswers(house, competence);
  await page.goto('/inductions');
  await press(link(page, title));
  await press(link(page, 'Begin with part 1'));
  for (const [p, answers] of parts.entries()) {
    if (p === 0) {
      await press(button(page, 'Answer'));
      expect(await page.getByRole('alert').textContent()).toContain('Question 1 is not answered');
      await choose(page, 'q0', answers[0] === 0 ? 1 : 0);
      await press(button(page, 'Answer'));
      expect(await page.locator('.ps-question__said').textContent()).toContain('not so');
    }
    for (const [q, place] of answers.entries()) await choose(page, `q${q}`, place);
    await press(button(page, 'Answer'));
    expect(await page.locator('.ps-question__said').first().textContent()).toContain('right');
    await press(
      link(page, p + 1 < parts.length ? new RegExp(`^Part ${p + 2}`) : 'All parts and the witness'),
    );
  }
  await type(page.getByLabel('When would it suit you?'), 'Thursday evening');
  await press(button(page, 'Ask for a witness'));
  expect(await page.locator('main').textContent()).toContain('You have asked on');
}

/** Ticks what was seen, every item, and signs off. */
async function witness(page: Page): Promise<void> {
  await page.goto('/inductions');
  await press(link(page, /Waiting for a witness/));
  await press(link(page, 'Witness').first());
  for (const tick of await page.getByRole('checkbox').all()) {
    await reach(tick);
    await page.keyboard.press('Space');
  }
  await press(button(page, 'Sign off'));
  expect(await page.locator('main').textContent()).toContain('The member has been told.');
}

it('leads from an invitation to press time of one’s own, by the keyboard alone', async () => {
  const email = 'sunniva@gullwing.example';
  const invited = await api
    .post('/api/v1/invitations')
    .set(admin.headers)
    .send({ email, displayName: 'Sunniva' })
    .expect(201);
  const context = await browser.newContext({ baseURL: house.url, viewport: WIDE });
  const errors = errorsOf(context);
  const page = await context.newPage();

  await page.goto(new URL(invited.body.link).pathname);
  await type(page.getByLabel('Password'), TEST_PASSWORD);
  await press(button(page, 'Become a member'));
  expect(await page.getByRole('link', { name: 'Account of Sunniva' }).count()).toBe(1);

  const session = await api.post('/api/v1/session').send({ email, password: TEST_PASSWORD }).expect(201);
  const plate = await api
    .post('/api/v1/plates')
    .set({ authorization: `Bearer ${session.body.token}` })
    .send(await sampleBody('tile-spacer-4up', 'Spacer'))
    .expect(201);
  await clearPlate(house, { plateId: plate.body.id });
  const day = new Date(house.clock.now().getTime() + 3 * DAY_MS).toISOString().slice(0, 10);
  const form = `/bookings/new?plateId=${plate.body.id}&polymer=PP&date=${day}&from=12:00&to=14:00`;
  await page.goto(form);
  expect(await page.getByRole('status').textContent()).toContain('Press operation and Plate change');
  await press(button(page, 'Book the press'));
  expect(await page.getByRole('alert').textContent()).toContain('A sign-off is missing');

  await study(page, 'press-operation', 'Press operation');
  await study(page, 'plate-change', 'Plate change');

  const other = await browser.newContext({ baseURL: house.url, viewport: WIDE });
  const stewardPage = await other.newPage();
  await signIn(stewardPage, odile.member.email);
  await witness(stewardPage);
  await witness(stewardPage);
  await other.close();

  await page.goto('/inductions/card');
  await press(button(page, 'Make my card'));
  expect(await page.getByRole('img', { name: /QR code/ }).count()).toBe(1);
  await page.goto(form);
  expect(await page.getByRole('status').count()).toBe(0);
  await press(button(page, 'Book the press'));
  expect(await page.locator('main').textContent()).toContain('The press is yours for that time.');
  expect(errors).toEqual([]);
  await context.close();
});
