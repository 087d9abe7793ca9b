import type { Queryable } from '../database/queryable.js';
import { platesInProduction } from '../plates/clearance/in-production.js';
import type { RulesInForce } from '../shop/rules.js';
import { rulesAt } from '../shop/store.js';
import { rulesInstant } from './standing-ground.js';
import { bookingsStanding, type StandingBooking } from './store.js';

/** A plate that is booked or may be, in one resin, under the rules that hold then. */
export interface PlateAtStake {
  readonly plateId: string;
  readonly plateName: string;
  readonly ownerId: string;
  /** Who has booked it, or else whose it is. */
  readonly displayName: string;
  readonly revision: number;
  readonly polymer: string;
  /** The report that it stands on: the booking's, or the one a steward accepted. */
  readonly reportId: string;
  readonly rules: RulesInForce;
  /** An instant at which these rules hold. */
  readonly rulesAt: Date;
}

const LONG_AGO = new Date(0);

/** Under what a plate's report is found again among others: one for each version of the rules. */
export function stakeKey(
  plate: Pick<PlateAtStake, 'plateId' | 'revision' | 'polymer'>,
  rulesVersion: number,
): string {
  return `${plate.plateId} ${plate.revision} ${plate.polymer} ${rulesVersion}`;
}

/** Every plate of a coming booking, under the rules of its start, and every one in production, under today's. */
export async function platesAtStake(db: Queryable, now: Date): Promise<readonly PlateAtStake[]> {
  const bookings = await bookingsStanding(db, { from: LONG_AGO, until: null, now });
  const found = new Map<string, PlateAtStake>();
  const add = (plate: PlateAtStake) => {
    const key = stakeKey(plate, plate.rules.version);
    if (!found.has(key)) found.set(key, plate);
  };
  for (const booking of bookings) {
    const at = rulesInstant(booking, now);
    add(stakeOf(booking, await rulesAt(db, at), at));
  }
  const rules = await rulesAt(db, now);
  for (const { ownerName, ...plate } of await platesInProduction(db)) {
    add({ ...plate, displayName: ownerName, rules, rulesAt: now });
  }
  return [...found.values()];
}

function stakeOf(booking: StandingBooking, rules: RulesInForce, at: Date): PlateAtStake {
  const { plateId, plateName, plateOwnerId: ownerId, displayName, revision, polymer, reportId } = booking;
  return { plateId, plateName, ownerId, displayName, revision, polymer, reportId, rules, rulesAt: at };
}
