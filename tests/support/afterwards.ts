import { afterAll } from 'vitest';

const deeds: (() => Promise<unknown>)[] = [];

/**
 * Has something cleared away when the test file is done, the last first. Unlike `afterAll` it may also be called
 * from within a test.
 */
export function afterwards(deed: () => Promise<unknown>): void {
  deeds.push(deed);
}

afterAll(async () => {
  for (const deed of deeds.splice(0).reverse()) await deed();
});
