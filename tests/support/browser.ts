import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Result } from 'axe-core';
import { type Browser, type BrowserContext, chromium, type Locator, type Page } from 'playwright-core';
import { afterAll } from 'vitest';
import { findChromium } from '../../server/scripts/chromium.mjs';

export const WIDE = { width: 1440, height: 1000 };
export const PHONE = { width: 390, height: 844 };

const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** A real browser for the calling test file, closed when the file is done. */
export async function openBrowser(): Promise<Browser> {
  const browser = await chromium.launch({
    executablePath: findChromium() ?? 'chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update'],
  });
  afterAll(() => browser.close());
  return browser;
}

/** What the axe rules for WCAG 2.2 A and AA find wrong on the page as it stands, one line each. */
export async function violationsOn(page: Page): Promise<readonly string[]> {
  // Evaluated, not added as a script element: the pages' content security policy forbids those.
  await page.evaluate(await readFile(AXE, 'utf8'));
  const { violations } = await page.evaluate(
    (tags) =>
      (globalThis as unknown as { axe: typeof import('axe-core') }).axe.run({
        runOnly: { type: 'tag', values: tags },
      }),
    RULES,
  );
  return violations.map(
    ({ id, help, nodes }: Result) =>
      `${id}: ${help}: ${nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`,
  );
}

/** Clicks a link or button and waits for the page that it leads to. */
export async function follow(link: Locator): Promise<void> {
  await Promise.all([link.page().waitForNavigation(), link.click()]);
}

/** True when the page scrolls sideways, which no sheet may. */
export function scrollsSideways(page: Page): Promise<boolean> {
  return page.evaluate<boolean>(
    'document.documentElement.scrollWidth > document.documentElement.clientWidth',
  );
}

/** Fails the test that opened the page when the browser reports an error on it, policy violations among them. */
export function errorsOf(context: BrowserContext): readonly string[] {
  const errors: string[] = [];
  context.on('weberror', (error) => errors.push(error.error().message));
  context.on('console', (message) => {
    if (message.type() === 'error' && !/status of 4\d\d/.test(message.text())) errors.push(message.text());
  });
  return errors;
}
