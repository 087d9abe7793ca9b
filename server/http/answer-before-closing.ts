import { setTimeout as sleep } from 'node:timers/promises';
import type { FastifyInstance } from 'fastify';

/** How long requests under way are waited for; a stop is expected to be over ten seconds after it was asked. */
const WAIT_MS = 7000;

/**
 * Holds the closing of connections back until what was asked before is answered. The server closes them all then,
 * also those that a browser keeps open with nothing to say.
 */
export function answerBeforeClosing(app: FastifyInstance): void {
  let underWay = 0;
  let allAnswered = () => {};
  app.addHook('onRequest', async () => {
    underWay += 1;
  });
  app.addHook('onResponse', async () => {
    underWay -= 1;
    if (underWay === 0) allAnswered();
  });
  app.addHook('preClose', async () => {
    if (underWay === 0) return;
    const answered = new Promise<void>((done) => {
      allAnswered = done;
    });
    await Promise.race([answered, sleep(WAIT_MS, undefined, { ref: false })]);
  });
}
