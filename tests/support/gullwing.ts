import type { CheckRules, PlateFacts } from '../../server/engineering/press-facts.js';
import { FIRST_LIMITS } from '../../server/shop/rules.js';

/** Gullwing Yard, as the demo has it: its press, its two bolsters, its rules, and the usual plate. */
export {
  BOLSTER_1 as demoBolster,
  KEYED_BOLSTER as keyedBolster,
  YARD_PRESS as demoPress,
} from '../../prisma/demo/gullwing-yard.js';

const { clampSafetyFactor, handClearanceMm, plateHolePositionMm, roomC } = FIRST_LIMITS;

export const demoRules: CheckRules = { clampSafetyFactor, handClearanceMm, plateHolePositionMm, roomC };

/** 16 mm of EN AW-6082-T6 on M6 x 20 screws, sunk 7 mm with 11 mm counterbores where the drawing has none. */
export const samplePlate: PlateFacts = {
  thicknessMm: 16,
  facingThicknessMm: 0,
  packerThicknessMm: 0,
  alloy: 'EN AW-6082-T6',
  partHeightMm: null,
  draftDeg: null,
  cutters: [],
  screw: { size: 'M6', lengthMm: 20, headSinkDepthMm: 7, headSinkDiameterMm: 11 },
  screwGroups: [],
};
