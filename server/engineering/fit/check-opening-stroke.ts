import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, Finding } from '../finding.js';
import type { BolsterFacts, CheckRules, PlateFacts, PressFacts } from '../press-facts.js';
import { stackMm, upToTenth } from './plate-with.js';
import { sprueAtStack } from './sprue-at-stack.js';

/**
 * Does the press open far enough to take a part out by hand? Needed = 2 x part height + sprue + hand clearance. A
 * hydraulic clamp opens less by what the stack is thicker than the thinnest; a toggle keeps its stroke. The sprue is
 * as long as the fixed half's, and a facing plate makes it longer. Part height as given, and never less than the
 * deepest cavity, since no form field may switch a pinch check off. mm.
 */
export function checkOpeningStroke({
  drawing,
  plate,
  bolster,
  press,
  rules,
}: {
  readonly drawing: Pick<MeasuredDrawing, 'features'>;
  readonly plate: PlateFacts;
  readonly bolster: BolsterFacts;
  readonly press: PressFacts;
  readonly rules: CheckRules;
}): Finding {
  const isHydraulic = press.clamp.kind === 'hydraulic';
  const thickerMm = Math.max(0, stackMm(plate) - bolster.minimumDaylightMm);
  const strokeMm = press.openingStrokeMm - (isHydraulic ? thickerMm : 0);
  const deepestMm = drawing.features.CAVITY?.maxDepthMm ?? 0;
  const partHeightMm = Math.max(plate.partHeightMm ?? 0, deepestMm);
  const sprueMm = sprueAtStack(bolster, plate).lengthMm;
  const neededMm = 2 * partHeightMm + sprueMm + rules.handClearanceMm;
  const marginMm = strokeMm - neededMm;
  const isShort = marginMm < -1e-6;
  return {
    check: 'opening-stroke',
    verdict: isShort ? 'stop' : 'clear',
    situation: !isShort
      ? 'opens'
      : strokeMm < neededMm - rules.handClearanceMm
        ? 'part-caught'
        : 'hand-caught',
    figure: neededMm,
    limit: strokeMm,
    allowed: 'at-most',
    unit: 'mm',
    margin: marginMm,
    figures: {
      neededMm,
      strokeMm,
      partHeightMm,
      partHeightFrom: partHeightMm === plate.partHeightMm ? 'given' : 'deepest-cavity',
      sprueMm,
      handClearanceMm: rules.handClearanceMm,
      stackMm: stackMm(plate),
      thickerMm,
      clamp: press.clamp.kind,
    },
    places: [],
    cures: isShort ? cures(plate, bolster, isHydraulic, -marginMm) : [],
    source: "the machine's own limit",
    basis: 'machine',
  };
}

function cures(
  plate: PlateFacts,
  bolster: BolsterFacts,
  isHydraulic: boolean,
  shortMm: number,
): readonly Cure[] {
  const offMm = upToTenth(shortMm);
  const spareMm = stackMm(plate) - bolster.minimumDaylightMm;
  const found: Cure[] = [];
  if (isHydraulic && plate.packerThicknessMm >= offMm && spareMm >= offMm) {
    const packerThicknessMm = plate.packerThicknessMm - offMm;
    found.push({
      code: 'thinner-packer',
      amount: packerThicknessMm,
      unit: 'mm',
      figures: { offMm },
      change: { packerThicknessMm },
    });
  }
  const facingOffMm = upToTenth(isHydraulic ? shortMm / 2 : shortMm);
  if (plate.facingThicknessMm >= facingOffMm && spareMm >= facingOffMm) {
    const facingThicknessMm = plate.facingThicknessMm - facingOffMm;
    found.push({
      code: 'thinner-facing',
      amount: facingThicknessMm,
      unit: 'mm',
      figures: { offMm: facingOffMm },
      change: { facingThicknessMm },
    });
  }
  found.push({ code: 'lower-part', amount: upToTenth(shortMm / 2), unit: 'mm', figures: {} });
  return found;
}
