import type { RunFacts } from '../engineering/heat/check-plate-warming.js';
import type { Grade } from '../engineering/polymers/grade.js';
import type { CheckRules, PlateFacts } from '../engineering/press-facts.js';
import type { Asker } from '../http/asker.js';
import { Refusal } from '../reasons.js';
import type { CheckGround } from './check-ground.js';
import { checkGround } from './check-ground.js';
import type { CheckAnswer, CheckingHouse, CheckQuestion, Checks, ReportMade } from './checking-house.js';

/** A drawing with its facts, for a resin. */
export interface PlateWish {
  readonly dxf: Uint8Array | string;
  readonly facts: PlateFacts;
  readonly polymer: string;
  /** A grade of that polymer; left out where the family's own figures hold. */
  readonly grade?: Grade | undefined;
  /** What is known of the run it is for; nothing when left out, as in every stored report. */
  readonly run?: RunFacts | undefined;
}

export interface CheckWish extends PlateWish {
  /** Null: the mounted one. */
  readonly bolsterId: string | null;
}

export interface CheckDone extends CheckAnswer {
  readonly ground: CheckGround;
  readonly facts: PlateFacts;
}

/** Checks a drawing on a bolster as it is now, to be drawn, and keeps nothing. */
export async function checkNow(
  house: CheckingHouse,
  wish: CheckWish,
  asker: Asker,
): Promise<CheckDone | Refusal> {
  const ground = await checkGround(house.database, house.now(), wish.bolsterId);
  return ground instanceof Refusal ? ground : checkOn(house, ground, wish, asker);
}

/** Checks a drawing on given ground, to be drawn, and keeps nothing. */
export async function checkOn(
  { checks }: { readonly checks: Pick<Checks, 'check'> },
  ground: CheckGround,
  wish: PlateWish,
  asker: Asker,
): Promise<CheckDone | Refusal> {
  const answer = await checks.check(questionOn(ground, wish), asker);
  return answer instanceof Refusal ? answer : { ...answer, ground, facts: wish.facts };
}

/** The report of a drawing on a bolster as it is now; nothing is kept. */
export async function reportNow(
  house: CheckingHouse,
  wish: CheckWish,
  asker: Asker,
): Promise<ReportMade | Refusal> {
  const ground = await checkGround(house.database, house.now(), wish.bolsterId);
  return ground instanceof Refusal ? ground : reportOn(house, ground, wish, asker);
}

/** The report of a drawing on given ground; nothing is kept. */
export function reportOn(
  { checks }: { readonly checks: Pick<Checks, 'report'> },
  ground: CheckGround,
  wish: PlateWish,
  asker: Asker,
): Promise<ReportMade | Refusal> {
  const { id, version } = ground.bolster;
  return checks.report(questionOn(ground, wish), { id, version }, asker);
}

/** Of the shop rules, what a check asks about. */
export function checkRulesOf({
  clampSafetyFactor,
  handClearanceMm,
  plateHolePositionMm,
  roomC,
}: CheckRules): CheckRules {
  return { clampSafetyFactor, handClearanceMm, plateHolePositionMm, roomC };
}

function questionOn({ bolster, press, rules }: CheckGround, wish: PlateWish): CheckQuestion {
  const { dxf, facts, polymer, grade, run } = wish;
  const ground = { bolster: bolster.facts, press: press.facts, rules: checkRulesOf(rules) };
  return { dxf, facts, polymer, grade, run, ...ground };
}
