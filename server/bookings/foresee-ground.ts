import type { Actor } from '../context.js';
import { memberAsking } from '../http/asker.js';
import type { CheckGround } from '../plates/check-ground.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import type { GroundProposed } from '../press/press-house.js';
import { bolsterOnPress, mountedBolster } from '../press/store.js';
import type { Foreseen } from '../shop/foreseen.js';
import { rulesAt } from '../shop/store.js';
import { bookingsAffected, platesAffected, reportsAhead } from './foresee.js';
import { platesAtStake, stakeKey } from './plates-at-stake.js';
import { rulesInstant } from './standing-ground.js';
import { bookingsStanding } from './store.js';

const LONG_AGO = new Date(0);

/**
 * What another version of press or bolster, or another bolster in the press, does to bookings that stand and to plates
 * in production. Plates are checked off the request thread; nothing is written.
 */
export async function foreseeGround(
  house: CheckingHouse,
  proposed: GroundProposed,
  actor: Pick<Actor, 'memberId'>,
): Promise<Foreseen> {
  const { database } = house;
  const now = house.now();
  const rules = await rulesAt(database, now);
  const untouched = {
    rules,
    checksChange: true,
    insteadOf: rules.version,
    bookings: [],
    plates: [],
    reports: [],
  };
  const ground = await groundProposed(house, proposed);
  if (ground === undefined) return { ...untouched, ground: null };
  const bookings = await bookingsStanding(database, { from: LONG_AGO, until: null, now });
  const plates = await platesAtStake(database, now);
  const on = (under: CheckGround['rules']): CheckGround => ({ ...ground, rules: under });
  const reports = await reportsAhead(house, plates, (plate) => on(plate.rules), memberAsking(actor));
  return {
    ...untouched,
    bookings: await bookingsAffected(house, bookings, async (booking) => {
      const under = await rulesAt(database, rulesInstant(booking, now));
      return { against: on(under), report: reports.get(stakeKey(booking, under.version)) };
    }),
    plates: await platesAffected(house, plates, reports),
    reports: plates.flatMap((plate) => {
      const { plateId, revision, polymer } = plate;
      const report = reports.get(stakeKey(plate, plate.rules.version));
      if (report === undefined) return [];
      const { verdict, json } = report;
      return [{ plateId, revision, polymer, shopRuleVersion: plate.rules.version, verdict, json }];
    }),
    ground,
  };
}

/** Bolster and press as they would be; nothing where what is proposed does not touch what is in the press. */
async function groundProposed(
  { database }: CheckingHouse,
  { press, bolster, mountBolsterId }: GroundProposed,
): Promise<Omit<CheckGround, 'rules'> | undefined> {
  const mounted = await mountedBolster(database);
  const bolsterId = mountBolsterId ?? mounted?.id;
  if (bolsterId === undefined) return undefined;
  const touched = press !== undefined || mountBolsterId !== undefined || bolster?.id === mounted?.id;
  if (!touched) return undefined;
  const now = await bolsterOnPress(database, bolsterId);
  if (now === undefined) return undefined;
  return {
    bolster: {
      ...now.bolster,
      mounted: true,
      ...(bolster?.id === bolsterId && { version: now.bolster.version + 1, facts: bolster.facts }),
    },
    press: { ...now.press, ...(press !== undefined && { version: now.press.version + 1, facts: press }) },
  };
}
