import type { PlateFacts } from '../engineering/press-facts.js';
import { Refusal } from '../reasons.js';
import { wordReport } from '../words/index.js';
import type { CheckGround } from './check-ground.js';
import { checkGround } from './check-ground.js';
import type { CheckReport } from './check-report-schema.js';
import type { CheckAnswer, CheckingHouse, Checks } from './checking-house.js';

export interface CheckWish {
  readonly dxf: Uint8Array | string;
  readonly facts: PlateFacts;
  readonly polymer: string;
  /** Null: the mounted one. */
  readonly bolsterId: string | null;
}

export interface CheckDone extends CheckAnswer {
  readonly ground: CheckGround;
  readonly facts: PlateFacts;
  readonly report: CheckReport;
}

/** Checks a drawing on a bolster as it is now, and keeps nothing. */
export async function checkNow(house: CheckingHouse, wish: CheckWish): Promise<CheckDone | Refusal> {
  const ground = await checkGround(house.database, house.now(), wish.bolsterId);
  if (ground instanceof Refusal) return ground;
  return checkOn(house, ground, wish);
}

/** Checks a drawing on given ground, and keeps nothing. */
export async function checkOn(
  { checks }: { readonly checks: Pick<Checks, 'check'> },
  ground: CheckGround,
  { dxf, facts, polymer }: Omit<CheckWish, 'bolsterId'>,
): Promise<CheckDone | Refusal> {
  const { bolster, press, rules } = ground;
  const { clampSafetyFactor, handClearanceMm, plateHolePositionMm } = rules;
  const answer = await checks.check({
    dxf,
    facts,
    polymer,
    bolster: bolster.facts,
    press: press.facts,
    rules: { clampSafetyFactor, handClearanceMm, plateHolePositionMm },
  });
  if (answer instanceof Refusal) return answer;
  const about = { drawing: answer.drawing, polymer, bolster: { id: bolster.id, version: bolster.version } };
  return { ...answer, ground, facts, report: wordReport(answer.check, about) };
}
