import type { Actor } from '../../server/context.js';
import type { Tx } from '../../server/database/transaction.js';
import { accept } from '../../server/http/refused.js';
import { closeDamage } from '../../server/plates/damage/close-damage.js';
import { reportDamage } from '../../server/plates/damage/report-damage.js';
import { mountedBolster } from '../../server/press/store.js';
import type { YardMember } from './gullwing-yard.js';
import { YARD_DAMAGE } from './yard-damage.js';

const HOUR_MS = 3_600_000;

interface Yard {
  readonly tx: Tx;
  readonly now: Date;
  readonly actorIn: (key: YardMember) => Actor;
}

/** The log of damage, by the commands that members and stewards use. */
export async function seedDamage(
  { tx, now, actorIn }: Yard,
  plates: ReadonlyMap<string, { readonly plateId: string }>,
): Promise<void> {
  const bolsterId = (await mountedBolster(tx))?.id ?? '';
  for (const { by, hoursAgo, of, closed, ...told } of YARD_DAMAGE) {
    const reportedAt = new Date(now.getTime() - hoursAgo * HOUR_MS);
    const about =
      'plate' in of ? { plateId: plates.get(of.plate)?.plateId ?? '' } : { bolsterId, half: of.half };
    const ctx = { actor: actorIn(by), now: reportedAt, tx };
    const damageId = accept(await reportDamage(ctx, { ...told, about, photograph: null }));
    if (closed === undefined) continue;
    const at = new Date(reportedAt.getTime() + closed.hoursAfter * HOUR_MS);
    accept(await closeDamage({ actor: actorIn(closed.by), now: at, tx }, { damageId, done: closed.done }));
  }
}
