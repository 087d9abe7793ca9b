import type { Queryable } from '../database/queryable.js';
import { dataVersion, engineVersion } from '../engineering/version.js';
import { type Bolster, bolsterById, mountedBolster, type Press, pressById } from '../press/store.js';
import { type Refusal, refuse } from '../reasons.js';
import type { RulesInForce } from '../shop/rules.js';
import { rulesAt } from '../shop/store.js';
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
  const bolster = bolsterId === null ? await mountedBolster(db) : await bolsterById(db, bolsterId);
  if (bolster === undefined) {
    return bolsterId === null ? refuse('bolster-not-mounted') : refuse('not-found', { field: 'bolsterId' });
  }
  const press = await pressById(db, bolster.pressId);
  if (press === undefined) throw new Error(`Bolster ${bolster.id} belongs to no press.`);
  return { rules: await rulesAt(db, now), bolster, press };
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
