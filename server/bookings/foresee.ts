import type { Verdict } from '../engineering/finding.js';
import type { Asker } from '../http/asker.js';
import type { CheckGround } from '../plates/check-ground.js';
import { reportOn } from '../plates/check-now.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { WORSE_AND_WORSE } from '../plates/clearance/standing.js';
import { drawingOf, plateById, type ReportStanding, revisionOf, standingsOf } from '../plates/store.js';
import { Refusal } from '../reasons.js';
import type { BookingAffected, CheckWorse, PlateAffected } from '../shop/foreseen.js';
import { reasonsLost } from './conditions.js';
import { isSameLoss, lostOf } from './lost-store.js';
import { type PlateAtStake, stakeKey } from './plates-at-stake.js';
import { restingOn } from './standing-ground.js';
import type { StandingBooking } from './store.js';

/** Plates that are checked again for one change; those beyond are told as not looked at. */
const PLATES_MAX = 60;

/** Of the check pool, so that members who check meanwhile still get their turn. */
const AT_ONCE = 2;

/** A report that was computed for a change and is not kept yet. */
export interface ReportAhead extends Pick<ReportStanding, 'verdict' | 'notClear'> {
  readonly json: string;
}

/**
 * Checks plates on ground that does not stand yet, off the request thread, and keeps nothing.
 *
 * @returns reports by `stakeKey`; those that there was no time or no way to make are missing
 */
export async function reportsAhead(
  house: CheckingHouse,
  plates: readonly PlateAtStake[],
  groundOf: (plate: PlateAtStake) => CheckGround,
  asker: Asker,
): Promise<ReadonlyMap<string, ReportAhead>> {
  const made = new Map<string, ReportAhead>();
  const waiting = plates.slice(0, PLATES_MAX);
  const work = async () => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      const report = await reportAhead(house, next, groundOf(next), asker);
      if (report !== undefined) made.set(stakeKey(next, next.rules.version), report);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  return made;
}

async function reportAhead(
  house: CheckingHouse,
  { plateId, revision, polymer }: PlateAtStake,
  ground: CheckGround,
  asker: Asker,
): Promise<ReportAhead | undefined> {
  const [kept, drawing] = await Promise.all([
    revisionOf(house.database, plateId, revision),
    drawingOf(house.database, plateId, revision),
  ]);
  if (kept === undefined || drawing === undefined) return undefined;
  const made = await reportOn(house, ground, { dxf: drawing.dxf, facts: kept.facts, polymer }, asker);
  if (made instanceof Refusal) return undefined;
  const json = Buffer.from(made.json).toString();
  const { findings } = JSON.parse(json) as { findings: readonly { check: string; verdict: Verdict }[] };
  const notClear = findings.filter(({ verdict }) => verdict !== 'clear');
  return {
    verdict: made.verdict,
    notClear: notClear.map(({ check, verdict }) => ({ check, verdict })),
    json,
  };
}

/** What bookings would lose on ground that does not stand yet, beside what they are missing already. */
export async function bookingsAffected(
  { database, now }: CheckingHouse,
  bookings: readonly StandingBooking[],
  onGround: (booking: StandingBooking) => Promise<{
    readonly against: CheckGround;
    readonly report: Pick<ReportStanding, 'notClear'> | undefined;
  }>,
): Promise<readonly BookingAffected[]> {
  const affected: BookingAffected[] = [];
  for (const booking of bookings) {
    const plate = await plateById(database, booking.plateId);
    if (plate === undefined) continue;
    const { against, report } = await onGround(booking);
    const ground = await restingOn(database, { ...booking, plate }, now(), against, report);
    const missing = await lostOf(database, booking.id);
    const reasons = reasonsLost(ground).filter((one) => !missing.some((other) => isSameLoss(one, other)));
    if (reasons.length > 0) affected.push({ ...booking, bookingId: booking.id, reasons });
  }
  return affected;
}

/** Plates whose verdict would be another, or of which a check would say worse. */
export async function platesAffected(
  { database }: CheckingHouse,
  plates: readonly PlateAtStake[],
  reports: ReadonlyMap<string, ReportAhead>,
): Promise<readonly PlateAffected[]> {
  const before = await standingsOf(
    database,
    plates.map(({ reportId }) => reportId),
  );
  return plates.flatMap(({ rules, reportId, plateId, plateName, displayName, revision, polymer }) => {
    const was = before.get(reportId);
    const after = reports.get(stakeKey({ plateId, revision, polymer }, rules.version));
    if (was === undefined) return [];
    const worse = after === undefined ? [] : checksWorse(was, after);
    if (after !== undefined && worse.length === 0 && after.verdict === was.verdict) return [];
    const told = { plateId, plateName, displayName, revision, polymer, worse };
    return [{ ...told, before: was.verdict, after: after?.verdict ?? null }];
  });
}

/** The checks that say worse in a report than in one before it; what that one did not have counts as clear. */
export function checksWorse(
  before: Pick<ReportStanding, 'notClear'>,
  after: Pick<ReportStanding, 'notClear'>,
): readonly CheckWorse[] {
  const was = new Map(before.notClear.map(({ check, verdict }) => [check, verdict]));
  return after.notClear
    .map(({ check, verdict }) => ({ check, before: was.get(check) ?? 'clear', after: verdict }) as const)
    .filter((one) => WORSE_AND_WORSE.indexOf(one.after) > WORSE_AND_WORSE.indexOf(one.before));
}
