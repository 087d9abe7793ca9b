import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { beforeAll, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { follow, openBrowser } from '../support/browser.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';

/** A4 less its margins, CSS px: 180 mm wide. */
const PAPER = { width: 680, height: 1032 };

const database = await testDatabase();
const house = await testHouse(database);
const browser = await openBrowser();

beforeAll(async () => {
  await furnishPress(database, house.clock.now());
});

it('prints a check on at most three sheets, named after its drawing, framed, without what only a screen can do', async () => {
  const page = await browser.newPage({ baseURL: house.url });
  await page.goto('/check');
  await page.setInputFiles('input[name=dxf]', join('tests', 'samples', 'board-counter-8up.dxf'));
  await page.getByRole('textbox', { name: 'Thickness' }).fill('10');
  await follow(page.getByRole('button', { name: 'Check', exact: true }));
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  expect(pdf.match(/\/Type \/Page\b(?!s)/g)?.length).toBeLessThanOrEqual(3);

  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize(PAPER);
  expect(await page.getByText('board-counter-8up.dxf').isVisible()).toBe(true);
  expect(await page.getByText('1 outline 180.0 × 140.0').isVisible()).toBe(true);
  for (const seen of await page.locator('button, input[type=file], #keep').all()) {
    expect(await seen.isVisible()).toBe(false);
  }
  expect(await page.locator('select').first().evaluate(backgroundOf)).toBe('none');
  expect(await frameOf(page)).toEqual({ left: true, right: true });
});

const backgroundOf = (select: unknown) =>
  (
    globalThis as unknown as { getComputedStyle: (of: unknown) => { backgroundImage: string } }
  ).getComputedStyle(select).backgroundImage;

/** Whether the frame's sides lie on the paper. */
async function frameOf(page: Page) {
  const box = await page.locator('.ps-sheet').boundingBox();
  return { left: (box?.x ?? -1) >= 0, right: (box?.x ?? 0) + (box?.width ?? 0) <= PAPER.width };
}
