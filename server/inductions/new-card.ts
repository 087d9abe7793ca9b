import { randomBytes } from 'node:crypto';
import type { Ctx } from '../context.js';
import { keepCard } from './store.js';

const CODE_BYTES = 18;

/** Gives the member a card with a new code that nobody can guess; the card before leads nowhere from now on. */
export async function newCard({ actor, now, tx }: Ctx): Promise<string> {
  const code = randomBytes(CODE_BYTES).toString('base64url');
  await keepCard(tx, actor.memberId, code, now);
  return code;
}
