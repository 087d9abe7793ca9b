import { checkClampForce } from './clamp/check-clamp-force.js';
import { checkLandPressure } from './clamp/check-land-pressure.js';
import { checkPartingLine } from './clamp/check-parting-line.js';
import { checkPlateFloor } from './clamp/check-plate-floor.js';
import { clampCaseOf } from './clamp/clamp-case.js';
import type { MeasuredDrawing } from './drawing/measured-drawing.js';
import { type Finding, VERDICTS_WORST_FIRST, type Verdict } from './finding.js';
import { checkBoltPattern } from './fit/check-bolt-pattern.js';
import { checkDaylight } from './fit/check-daylight.js';
import { checkFace } from './fit/check-face.js';
import { checkFeedOnSprue } from './fit/check-feed-on-sprue.js';
import { checkOpeningStroke } from './fit/check-opening-stroke.js';
import { checkScrewEngagement } from './fit/check-screw-engagement.js';
import { checkScrewHeads } from './fit/check-screw-heads.js';
import { checkWalls } from './fit/check-walls.js';
import { registerPlate } from './fit/register-plate.js';
import type { Registration } from './fit/registration-result.js';
import { screwDiametersMm } from './fit/screw-of-bolt.js';
import { checkCooling } from './heat/check-cooling.js';
import { checkPlateWarming, type RunFacts, UNKNOWN_RUN } from './heat/check-plate-warming.js';
import { checkMachinable } from './machining/check-machinable.js';
import { checkFillPressure } from './melt/check-fill-pressure.js';
import { checkGateShear } from './melt/check-gate-shear.js';
import { checkResidence } from './melt/check-residence.js';
import { checkShotVolume } from './melt/check-shot-volume.js';
import { checkVents } from './melt/check-vents.js';
import { meltCaseOf } from './melt/melt-case.js';
import { checkRelease } from './part/check-release.js';
import { checkShrinkage } from './part/check-shrinkage.js';
import { checkDrying } from './polymers/check-drying.js';
import type { Polymer } from './polymers/polymer.js';
import type { BolsterFacts, CheckRules, PlateFacts, PressFacts } from './press-facts.js';
import { dataVersion, engineVersion } from './version.js';

/** A plate checked on one bolster with one polymer. Findings stand in the order of `CHECKS`. */
export interface PlateCheck {
  readonly verdict: Verdict;
  readonly registration: Registration;
  readonly findings: readonly Finding[];
  readonly engineVersion: string;
  readonly dataVersion: string;
}

/** All that a plate check is computed from. */
export interface PlateCheckInput {
  readonly drawing: MeasuredDrawing;
  readonly plate: PlateFacts;
  readonly polymer: Polymer;
  readonly bolster: BolsterFacts;
  readonly press: PressFacts;
  readonly rules: CheckRules;
  /** Left out: nothing is known of a run. */
  readonly run?: RunFacts;
}

/**
 * Checks a plate: places it on the bolster, then asks every check. A plate that does not fit is judged where it
 * comes nearest, and the findings say so.
 * @throws RangeError for a screw size that the tables do not have
 */
export function checkPlate(input: PlateCheckInput): PlateCheck {
  const { drawing, plate, bolster, rules } = input;
  const screwsMm = screwDiametersMm(plate, drawing.bolts);
  const registration = registerPlate(drawing, bolster, screwsMm, rules, plate.facingThicknessMm);
  const placed = { ...input, registration };
  const melt = meltCaseOf(input);
  const clamp = clampCaseOf(input, registration, rules, melt.flow);
  const findings = [
    checkFace(placed),
    checkBoltPattern(placed),
    checkFeedOnSprue({ ...placed, feed: melt.feed }),
    checkScrewEngagement(placed),
    checkScrewHeads(placed),
    checkWalls(placed),
    checkDaylight(placed),
    checkOpeningStroke(placed),
    checkClampForce(drawing, clamp.force, input.polymer, input.press),
    checkPartingLine(clamp),
    checkLandPressure(clamp),
    checkPlateFloor(clamp),
    checkShotVolume(melt),
    checkResidence(melt),
    checkGateShear(melt),
    checkFillPressure(melt),
    checkVents(melt),
    checkCooling(melt),
    checkPlateWarming(melt, rules, input.run ?? UNKNOWN_RUN),
    checkRelease({ ...input, feed: melt.feed }),
    checkMachinable(input),
    checkShrinkage(drawing, input.polymer),
    checkDrying(input.polymer),
  ];
  return { verdict: worstOf(findings), registration, findings, engineVersion, dataVersion };
}

/** The worst verdict of some findings: stop, unknown, caution, clear. */
export function worstOf(findings: readonly Pick<Finding, 'verdict'>[]): Verdict {
  return VERDICTS_WORST_FIRST.find((verdict) => findings.some((one) => one.verdict === verdict)) ?? 'clear';
}
