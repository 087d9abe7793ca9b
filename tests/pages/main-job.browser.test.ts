import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { errorsOf, follow, openBrowser, PHONE, scrollsSideways, WIDE } from '../support/browser.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { makeMember, TEST_PASSWORD } from '../support/sign-in.js';

const DAY_MS = 86_400_000;
const sample = (name: string) => join('tests', 'samples', `${name}.dxf`);

const database = await testDatabase();
const house = await testHouse(database);
const browser = await openBrowser();

beforeAll(async () => {
  await furnishPress(database, house.clock.now());
});

const ways = [
  { way: 'with script, on a desk', javaScriptEnabled: true, viewport: WIDE, daysAhead: 3 },
  { way: 'without script, on a phone', javaScriptEnabled: false, viewport: PHONE, daysAhead: 4 },
];

describe.each(ways)('from a drawing to press time, $way', ({ javaScriptEnabled, viewport, daysAhead }) => {
  it('reads, checks, cures, keeps and books, and refuses what does not fit or is taken', async () => {
    const context = await browser.newContext({ baseURL: house.url, javaScriptEnabled, viewport });
    const errors = errorsOf(context);
    const page = await context.newPage();
    const member = await makeMember(house);

    await page.goto('/check');
    await page.setInputFiles('input[name=dxf]', sample('tile-spacer-4up'));
    await follow(page.getByRole('button', { name: 'Check', exact: true }));
    expect(await stampOf(page)).toBe('clear');
    expect(await page.locator('svg[role=img]').first().getAttribute('aria-label')).toMatch(/bolster/i);

    await page.getByRole('textbox', { name: 'Thickness' }).fill('10,0');
    await follow(page.getByRole('button', { name: 'Check', exact: true }));
    expect(await stampOf(page)).toBe('stop');
    const daylight = page.locator('.ps-finding', { hasText: 'Daylight' });
    expect(await daylight.textContent()).toContain('2.0 mm too thin');

    await follow(daylight.getByRole('button', { name: /Check with it/ }).first());
    expect(await page.locator('.ps-finding', { hasText: 'Daylight' }).textContent()).not.toContain(
      'too thin',
    );

    await page.getByRole('textbox', { name: 'Thickness' }).fill('16');
    await page.getByRole('textbox', { name: 'Packer' }).fill('0');
    await page.getByRole('textbox', { name: 'Screw length' }).fill('20');
    await follow(page.getByRole('button', { name: 'Check', exact: true }));
    expect(await stampOf(page)).toBe('clear');

    await page.getByLabel('Name of the plate').fill('Spacer');
    await follow(page.getByRole('button', { name: 'Sign in and keep this plate' }));
    await page.getByLabel('E-mail').fill(member.email);
    await page.getByLabel('Password').fill(TEST_PASSWORD);
    await follow(page.locator('main').getByRole('button', { name: /Sign in/ }));
    expect(await page.locator('h1').textContent()).toContain('Spacer');
    const plateId = new URL(page.url()).pathname.split('/')[2] ?? '';

    await book(page, daysAhead, '12:00', '14:00');
    expect(await page.getByRole('alert').textContent()).toMatch(/not cleared for production/);
    await clearPlate(house, { plateId });

    await book(page, daysAhead, '12:00', '14:00');
    expect(await page.locator('h1').textContent()).toMatch(/Spacer|booking/i);

    await book(page, daysAhead, '13:00', '15:00');
    expect(await page.getByRole('alert').textContent()).toMatch(/taken|booked/i);

    await book(page, daysAhead, '15:00', '14:00');
    expect(await page.getByRole('alert').textContent()).toMatch(/end/i);

    await keep(page, 'bolt-off-grid', 'Off the grid');
    await book(page, daysAhead, '16:00', '17:00', /Off the grid/);
    expect(await page.getByRole('alert').textContent()).toMatch(/stop/i);

    await page.goto('/week');
    expect(await scrollsSideways(page)).toBe(false);
    await page.goto('/bookings');
    await follow(page.locator('tr', { hasText: 'Spacer' }).getByRole('link').first());
    await follow(page.getByRole('link', { name: /Cancel/ }));
    await follow(page.locator('main').getByRole('button', { name: /Cancel/ }));
    expect(await page.locator('main').textContent()).toMatch(/cancelled/i);

    expect(errors).toEqual([]);
    await context.close();
  });
});

async function stampOf(page: Page): Promise<string | null> {
  return page.locator('.ps-stamp__word').textContent();
}

/** Checks a sample and keeps it as a plate of the signed-in member. */
async function keep(page: Page, name: string, plateName: string): Promise<void> {
  await page.goto('/check');
  await page.setInputFiles('input[name=dxf]', sample(name));
  await follow(page.getByRole('button', { name: 'Check', exact: true }));
  await page.getByLabel('Name of the plate').fill(plateName);
  await follow(page.getByRole('button', { name: 'Keep this plate' }));
}

async function book(
  page: Page,
  daysAhead: number,
  from: string,
  to: string,
  plate = /Spacer/,
): Promise<void> {
  const day = new Date(house.clock.now().getTime() + daysAhead * DAY_MS).toISOString().slice(0, 10);
  await page.goto('/bookings/new');
  const option = page.locator('#plateId option', { hasText: plate });
  await page.getByLabel('Plate').selectOption((await option.getAttribute('value')) ?? '');
  await page.getByLabel('Day').fill(day);
  await page.getByLabel('From').fill(from);
  await page.getByLabel('To', { exact: true }).fill(to);
  await follow(page.getByRole('button', { name: 'Book the press' }));
}
