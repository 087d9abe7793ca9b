import type { BrowserContext, Page } from 'playwright-core';
import supertest from 'supertest';
import { beforeAll, describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import {
  errorsOf,
  follow,
  openBrowser,
  PHONE,
  scrollsSideways,
  violationsOn,
  WIDE,
} from '../support/browser.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { sampleBody } from '../support/sample-plate.js';
import { bearerOf, makeMember, TEST_PASSWORD, type TestMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const browser = await openBrowser();

beforeAll(async () => {
  await furnishPress(database, house.clock.now());
});

const ways = [
  { way: 'with script, on a desk', javaScriptEnabled: true, viewport: WIDE },
  { way: 'without script, on a phone', javaScriptEnabled: false, viewport: PHONE },
];

describe.each(ways)('a plate is cleared, $way', ({ javaScriptEnabled, viewport }) => {
  const open = () => browser.newContext({ baseURL: house.url, javaScriptEnabled, viewport });

  async function signedIn(context: BrowserContext, member: TestMember): Promise<Page> {
    const page = await context.newPage();
    await page.goto('/sign-in');
    await page.getByLabel('E-mail').fill(member.email);
    await page.getByLabel('Password').fill(TEST_PASSWORD);
    await follow(page.locator('main').getByRole('button', { name: /Sign in/ }));
    return page;
  }

  it('by a steward who measures, looks and signs; its owner revises it and sees what became void', async () => {
    const owner = await makeMember(house);
    const ownersHeaders = await bearerOf(house, owner);
    const api = supertest(house.url);
    const kept = await api
      .post('/api/v1/plates')
      .set(ownersHeaders)
      .send(await sampleBody('tile-spacer-4up', `Spacer ${viewport.width}`))
      .expect(201);
    const plateId = (kept.body as { readonly id: string }).id;
    await api
      .patch(`/api/v1/plates/${plateId}`)
      .set(ownersHeaders)
      .send({ condition: 'good', place: 'Rack A, shelf 2' })
      .expect(200);

    const stewards = await open();
    const errors = errorsOf(stewards);
    const steward = await signedIn(stewards, await makeMember(house, 'steward'));
    await steward.goto('/desk');
    const line = steward.locator('li', { hasText: `Fit to measure: Spacer ${viewport.width}` });
    expect(await line.textContent()).toContain('Rack A, shelf 2');
    await follow(line.getByRole('link', { name: 'Measure' }));

    // The first reading in inches, and a tick forgotten.
    for (const [corner, typed] of [
      ['top left', '0.63'],
      ['top right', '16,01'],
      ['bottom right', '16.02'],
      ['bottom left', '16'],
    ] as const)
      await steward.getByLabel(`Thickness, ${corner}`).fill(typed);
    await steward.getByLabel('Hole 1, diameter').fill('6.6');
    await steward.getByLabel(/Burrs removed/).check();
    await follow(steward.getByRole('button', { name: 'Clear the fit' }));
    expect(await steward.getByRole('alert').textContent()).toContain('Screw heads: tick it when it is so');
    await steward.getByLabel(/Screw heads below/).check();
    await follow(steward.getByRole('button', { name: 'Clear the fit' }));
    expect(await steward.getByRole('alert').textContent()).toContain('did you mean 16.0 mm?');
    expect(await steward.getByLabel('Thickness, top right').inputValue()).toBe('16,01');
    if (javaScriptEnabled) expect(await violationsOn(steward)).toEqual([]);
    expect(await scrollsSideways(steward)).toBe(false);
    await steward.getByLabel('Thickness, top left').fill('16.0');
    await follow(steward.getByRole('button', { name: 'Clear the fit' }));
    expect(await stepsOn(steward)).toEqual(['cleared', 'not yet', 'not yet']);

    await follow(steward.getByRole('link', { name: 'Decide about its trial' }));
    await steward
      .getByRole('textbox', { name: 'What was set and seen' })
      .fill('PP, short shots to full, no flash at 200 kN.');
    await follow(steward.getByRole('button', { name: 'Clear the trial' }));
    expect(await stepsOn(steward)).toEqual(['cleared', 'cleared', 'not yet']);

    // Its vents are too deep for PA6, which somebody has to accept.
    await steward.goto(`/plates/${plateId}/clearance/production?polymer=PA6&polymer=PP`);
    await follow(steward.getByRole('button', { name: 'Clear for production' }));
    expect(await steward.getByRole('alert').textContent()).toContain('in PA6: accept it for PA6');
    for (const tick of await steward.getByLabel(/I accept it as it is/).all()) await tick.check();
    await steward.getByLabel('Note', { exact: true }).fill('Dried for three hours; nothing was seen.');
    await follow(steward.getByRole('button', { name: 'Clear for production' }));
    expect(await stepsOn(steward)).toEqual(['cleared', 'cleared', 'cleared']);
    expect(await steward.locator('main').textContent()).toContain('Production in PA6, PP');
    expect(await scrollsSideways(steward)).toBe(false);
    await steward.goto('/desk');
    expect(await steward.locator('main').textContent()).not.toContain(`Spacer ${viewport.width}`);

    const owners = await open();
    const page = await signedIn(owners, owner);
    await page.goto('/notices');
    expect(await page.locator('main').textContent()).toContain(`Cleared for production: Spacer`);
    await page.goto(`/plates/${plateId}`);
    expect(await stepsOn(page)).toEqual(['cleared', 'cleared', 'cleared']);
    await page.getByRole('textbox', { name: 'Thickness' }).fill('17');
    await follow(page.getByRole('button', { name: /revision/i }));
    expect(await stepsOn(page)).toEqual(['not yet', 'not yet', 'not yet']);
    await follow(page.getByRole('link', { name: 'Steps and history' }));
    const history = page.locator('section', { hasText: 'What was decided' });
    expect(await history.getByText('void: revision 2 followed it').count()).toBe(3);
    expect(errors).toEqual([]);
    await Promise.all([stewards.close(), owners.close()]);
  });
});

/** What the table of steps says of each of the three. */
async function stepsOn(page: Page): Promise<readonly string[]> {
  const table = page.locator('table', { hasText: 'Stands' }).first();
  return table.locator('.ps-verdict').allInnerTexts();
}
