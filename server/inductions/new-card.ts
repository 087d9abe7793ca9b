import type { Ctx } from '../context.js';
import { newCardCode } from './card-code.js';
import { keepCard } from './store.js';

/** Gives the member a card with a new code that nobody can guess; the card before leads nowhere from now on. */
export async function newCard({ actor, now, tx }: Ctx): Promise<string> {
  const code = newCardCode();
  await keepCard(tx, actor.memberId, code, now);
  return code;
}
