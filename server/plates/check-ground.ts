import type { Queryable } from '../database/queryable.js';
import { dataVersion, engineVersion } from '../engineering/version.js';
import { type Bolster, bolsterOnPress, mountedBolster, type Press } from '../press/store.js';
import { type Refusal, refuse } from '../reasons.js';
import type { RulesInForce } from '../shop/rules.js';
import { findRulesAt } from '../shop/store.js';
import type { ReportKey } from './store.js';

/** What a plate is checked against: the rules in force, a bolster and the press it belongs to. */
export interface CheckGround {
  readonly rules: RulesInForce;
  readonly bolster: Bolster;
  readonly press: Press;
}

/** Reads the ground of a check; the mounted bolster when none is named. */
export async function checkGround(
  db: Queryable,
  now: Date,
  bolsterId: string | null,
): Promise<CheckGround | Refusal> {
  const onPress = await bolsterOnPress(db, bolsterId);
  const rules = await findRulesAt(db, now);
  if (onPress === undefined) {
    return bolsterId === null ? refuse('bolster-not-mounted') : refuse('not-found', { field: 'bolsterId' });
  }
  if (rules === undefined) throw new Error('There are no shop rules in force.');
  return { rules, ...onPress };
}

/** A feed drawn as a point gets this sprue while no bolster is mounted, mm. Common practice, no source. */
const USUAL_SPRUE_DIAMETER_MM = 3.5;

/** What a feed drawn as a point is taken for where no bolster is named: the sprue of the mounted one. */
export async function sprueDiameterNow(db: Queryable): Promise<number> {
  const bolster = await mountedBolster(db);
  return bolster?.facts.sprue.partingFaceDiameterMm ?? USUAL_SPRUE_DIAMETER_MM;
}

/** The key under which the report of a revision with a resin on this ground is stored. */
export function reportKey(
  ground: CheckGround,
  plateId: string,
  revision: number,
  polymer: string,
): ReportKey {
  return {
    plateId,
    revision,
    polymer,
    bolsterId: ground.bolster.id,
    bolsterVersion: ground.bolster.version,
    pressId: ground.press.id,
    pressVersion: ground.press.version,
    shopRuleVersion: ground.rules.version,
    dataVersion,
    engineVersion,
  };
}
