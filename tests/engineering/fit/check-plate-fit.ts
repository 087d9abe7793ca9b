import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import type { CheckName, Finding } from '../../../server/engineering/finding.js';
import { checkBoltPattern } from '../../../server/engineering/fit/check-bolt-pattern.js';
import { checkDaylight } from '../../../server/engineering/fit/check-daylight.js';
import { checkFace } from '../../../server/engineering/fit/check-face.js';
import { checkFeedOnSprue } from '../../../server/engineering/fit/check-feed-on-sprue.js';
import { checkOpeningStroke } from '../../../server/engineering/fit/check-opening-stroke.js';
import { checkScrewEngagement } from '../../../server/engineering/fit/check-screw-engagement.js';
import { checkScrewHeads } from '../../../server/engineering/fit/check-screw-heads.js';
import { checkWalls } from '../../../server/engineering/fit/check-walls.js';
import { registerPlate } from '../../../server/engineering/fit/register-plate.js';
import { screwDiametersMm } from '../../../server/engineering/fit/screw-of-bolt.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../../support/gullwing.js';

const CHECKS = [
  checkFace,
  checkBoltPattern,
  checkFeedOnSprue,
  checkScrewEngagement,
  checkScrewHeads,
  checkWalls,
  checkDaylight,
  checkOpeningStroke,
] as const;

/** Everything a fit check looks at, Gullwing Yard's unless said otherwise. */
export interface FitCase {
  readonly plate?: typeof samplePlate;
  readonly bolster?: typeof demoBolster;
  readonly press?: typeof demoPress;
  readonly rules?: typeof demoRules;
}

/** The findings of all eight fit checks of one plate, in the order of a report. */
export function fitFindings(drawing: MeasuredDrawing, given: FitCase = {}): readonly Finding[] {
  const plate = given.plate ?? samplePlate;
  const bolster = given.bolster ?? demoBolster;
  const rules = given.rules ?? demoRules;
  const screwsMm = screwDiametersMm(plate, drawing.bolts);
  const registration = registerPlate(drawing, bolster, screwsMm, rules, plate.facingThicknessMm);
  const facts = { drawing, plate, bolster, registration, press: given.press ?? demoPress, rules };
  return CHECKS.map((check) => check(facts));
}

/** One of them. */
export function fitFinding(check: CheckName, drawing: MeasuredDrawing, given: FitCase = {}): Finding {
  const finding = fitFindings(drawing, given).find((candidate) => candidate.check === check);
  if (finding === undefined) throw new Error(`no fit check ${check}`);
  return finding;
}
