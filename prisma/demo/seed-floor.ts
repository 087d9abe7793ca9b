import { lookUnderRules } from '../../server/bookings/look-again.js';
import { bookingsIn } from '../../server/bookings/store.js';
import type { Actor } from '../../server/context.js';
import type { Tx } from '../../server/database/transaction.js';
import { accept } from '../../server/http/refused.js';
import { stewardsNow } from '../../server/inductions/standing.js';
import { invite } from '../../server/members/invite.js';
import { close } from '../../server/shop/close.js';
import { dayOf, openSpansOf, startOfDay } from '../../server/shop/opening-hours.js';
import { shopRules } from '../../server/shop/rules.js';
import { setRules } from '../../server/shop/set-rules.js';
import { rulesAt } from '../../server/shop/store.js';
import { YARD_RULES } from './gullwing-yard.js';
import { BREAK_FROM_DAY, HOURS_WITH_BREAK, INVITED, STOCKTAKE } from './yard-week.js';

interface Acting {
  readonly actor: Actor;
  readonly now: Date;
  readonly tx: Tx;
}

/** The yard is closed for a whole day, or for the next one on which it would have been open. */
export async function seedClosure(ctx: Acting): Promise<void> {
  const day = dayOf(ctx.now, YARD_RULES.timeZone).add({ days: STOCKTAKE.day });
  const [first] = openSpansOf(day, YARD_RULES);
  const [span] = first === undefined ? openSpansOf(day.add({ days: 1 }), YARD_RULES) : [first];
  if (span !== undefined) accept(await close(ctx, { ...span, note: STOCKTAKE.note }, { bookingsIn }));
}

/** A coming version of the rules, with a break that some bookings run into: they need attention, and people are told. */
export async function seedComingRules(ctx: Acting): Promise<void> {
  const { timeZone } = YARD_RULES;
  const validFrom = startOfDay(dayOf(ctx.now, timeZone).add({ days: BREAK_FROM_DAY }), timeZone);
  const changes = { openingHours: HOURS_WITH_BREAK };
  const rules = shopRules.parse({ ...YARD_RULES, ...changes });
  const { version: insteadOf } = await rulesAt(ctx.tx, validFrom);
  const nothing = { bookings: [], plates: [], reports: [], ground: null };
  const foreseen = { ...nothing, rules, checksChange: false, insteadOf };
  accept(
    await setRules(ctx, { changes, validFrom, basedOn: null, foreseen }, { rulesChanged: [lookUnderRules] }),
  );
}

/** Somebody is invited and has not come by yet. */
export async function seedInvitation(ctx: Acting): Promise<void> {
  accept(await invite({ ...ctx, stewardsAt: stewardsNow }, INVITED));
}
