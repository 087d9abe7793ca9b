import { isDeepStrictEqual } from 'node:util';
import type { Actor } from '../context.js';
import { memberAsking } from '../http/asker.js';
import { checkGround, reportKey } from '../plates/check-ground.js';
import { checkRulesOf } from '../plates/check-now.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { standingOf } from '../plates/store.js';
import { Refusal } from '../reasons.js';
import type { Foreseen, RulesProposed } from '../shop/foreseen.js';
import { rulesAt } from '../shop/store.js';
import { bookingsAffected, platesAffected, reportsAhead } from './foresee.js';
import { type PlateAtStake, platesAtStake, stakeKey } from './plates-at-stake.js';
import { bookingsStanding } from './store.js';

/**
 * What a change of the shop rules does to bookings that stand and to plates in production: which no longer fit, and
 * of which a check says worse. Plates are checked off the request thread; nothing is written.
 */
export async function foreseeRules(
  house: CheckingHouse,
  { rules, validFrom, validUntil }: RulesProposed,
  actor: Pick<Actor, 'memberId'>,
): Promise<Foreseen> {
  const { database } = house;
  const now = house.now();
  const instead = await rulesAt(database, validFrom);
  const checksChange = !isDeepStrictEqual(checkRulesOf(rules), checkRulesOf(instead));
  const foreseen = { rules, checksChange, insteadOf: instead.version };
  const ground = await checkGround(database, now, null);
  if (ground instanceof Refusal) return { ...foreseen, bookings: [], plates: [], reports: [], ground: null };
  // Whatever number the version will get: nothing that is looked up here depends on it.
  const under = { ...ground, rules: { ...rules, version: instead.version } };
  const bookings = await bookingsStanding(database, { from: validFrom, until: validUntil, now });
  const plates = checksChange ? onceEach(await platesAtStake(database, now), under.rules.version) : [];
  const reports = await reportsAhead(house, plates, () => under, memberAsking(actor));
  return {
    ...foreseen,
    bookings: await bookingsAffected(house, bookings, async (booking) => {
      const { plateId, revision, polymer } = booking;
      const report = checksChange
        ? reports.get(stakeKey(booking, instead.version))
        : await standingOf(database, reportKey(under, plateId, revision, polymer));
      return { against: under, report };
    }),
    plates: await platesAffected(house, plates, reports),
    reports: plates.flatMap(({ plateId, revision, polymer }) => {
      const report = reports.get(stakeKey({ plateId, revision, polymer }, instead.version));
      if (report === undefined) return [];
      return [
        { plateId, revision, polymer, shopRuleVersion: null, verdict: report.verdict, json: report.json },
      ];
    }),
    ground: { bolster: ground.bolster, press: ground.press },
  };
}

/** Each plate once, whatever rules it would be under without the change. */
function onceEach(plates: readonly PlateAtStake[], version: number): readonly PlateAtStake[] {
  const found = new Map<string, PlateAtStake>();
  for (const plate of plates) {
    const key = stakeKey(plate, version);
    if (!found.has(key)) found.set(key, { ...plate, rules: { ...plate.rules, version } });
  }
  return [...found.values()];
}
