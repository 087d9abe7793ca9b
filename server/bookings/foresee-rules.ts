import type { Actor } from '../context.js';
import type { Verdict } from '../engineering/finding.js';
import { memberAsking } from '../http/asker.js';
import { checkGround } from '../plates/check-ground.js';
import { reportOn } from '../plates/check-now.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { drawingOf, revisionOf } from '../plates/store.js';
import { type Reason, Refusal } from '../reasons.js';
import { type Foreseen, type PlateAffected, plateKey, type RulesProposed } from '../shop/foreseen.js';
import type { ShopRules } from '../shop/rules.js';
import { rulesAt } from '../shop/store.js';
import { reasonsByHours } from './conditions.js';
import { bookingsStanding, type StandingBooking } from './store.js';

/** Plates that are checked again for one change; those beyond are told as not looked at. */
const PLATES_MAX = 60;

/** Of the check pool, so that members who check meanwhile still get their turn. */
const AT_ONCE = 2;

const CHECK_RULES = ['clampSafetyFactor', 'handClearanceMm', 'plateHolePositionMm'] as const;

/**
 * What a change of the shop rules does to bookings that stand: which no longer fit, and whose plate gets another
 * verdict. Plates are checked off the request thread; nothing is written.
 */
export async function foreseeRules(
  house: CheckingHouse,
  proposed: RulesProposed,
  actor: Pick<Actor, 'memberId'>,
): Promise<Foreseen> {
  const { rules, validFrom, validUntil } = proposed;
  const now = house.now();
  const bookings = await bookingsStanding(house.database, { from: validFrom, until: validUntil, now });
  const instead = await rulesAt(house.database, validFrom);
  const checksChange = CHECK_RULES.some((name) => rules[name] !== instead[name]);
  const verdicts = checksChange ? await verdictsUnder(house, rules, bookings, actor) : new Map();
  return {
    rules,
    checksChange,
    verdicts,
    bookings: bookings
      .map((booking) => ({
        ...booking,
        bookingId: booking.id,
        reasons: reasonsUnder(booking, rules, verdicts, checksChange),
      }))
      .filter(({ reasons }) => reasons.length > 0),
    plates: checksChange ? platesAffected(bookings, verdicts) : [],
  };
}

/** What a booking that stands loses under rules it was not made with; a verdict nobody knows counts as lost. */
export function reasonsUnder(
  booking: StandingBooking,
  rules: ShopRules,
  verdicts: Foreseen['verdicts'],
  checksChange: boolean,
): readonly Reason[] {
  const byHours = reasonsByHours({ span: booking, rules });
  if (!checksChange) return byHours;
  const verdict = verdicts.get(plateKey(booking));
  if (verdict === undefined) return [...byHours, { code: 'report-not-known' }];
  return verdict === 'stop' ? [...byHours, { code: 'report-has-stop' }] : byHours;
}

async function verdictsUnder(
  house: CheckingHouse,
  rules: ShopRules,
  bookings: readonly StandingBooking[],
  actor: Pick<Actor, 'memberId'>,
): Promise<ReadonlyMap<string, Verdict>> {
  const verdicts = new Map<string, Verdict>();
  const waiting = [...distinctPlates(bookings).values()].slice(0, PLATES_MAX);
  const work = async () => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      const verdict = await verdictUnder(house, rules, next, actor);
      if (verdict !== undefined) verdicts.set(plateKey(next), verdict);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  return verdicts;
}

async function verdictUnder(
  house: CheckingHouse,
  rules: ShopRules,
  { plateId, revision, polymer }: StandingBooking,
  actor: Pick<Actor, 'memberId'>,
): Promise<Verdict | undefined> {
  const { database, now } = house;
  const [ground, kept, drawing] = await Promise.all([
    checkGround(database, now(), null),
    revisionOf(database, plateId, revision),
    drawingOf(database, plateId, revision),
  ]);
  if (ground instanceof Refusal || kept === undefined || drawing === undefined) return undefined;
  const under = { ...ground, rules: { ...rules, version: ground.rules.version } };
  const wish = { dxf: drawing.dxf, facts: kept.facts, polymer };
  const made = await reportOn(house, under, wish, memberAsking(actor));
  return made instanceof Refusal ? undefined : made.verdict;
}

function platesAffected(
  bookings: readonly StandingBooking[],
  verdicts: ReadonlyMap<string, Verdict>,
): readonly PlateAffected[] {
  return [...distinctPlates(bookings).values()]
    .map(({ reportVerdict: before, ...plate }) => ({
      ...plate,
      before,
      after: verdicts.get(plateKey(plate)) ?? null,
    }))
    .filter(({ before, after }) => before !== after);
}

/** The first booking of each plate, revision and polymer. */
function distinctPlates(bookings: readonly StandingBooking[]): ReadonlyMap<string, StandingBooking> {
  const plates = new Map<string, StandingBooking>();
  for (const booking of bookings) {
    const key = plateKey(booking);
    if (!plates.has(key)) plates.set(key, booking);
  }
  return plates;
}
