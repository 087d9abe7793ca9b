import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure } from '../finding.js';
import type { PressFacts } from '../press-facts.js';
import { areaHeldMm2, type OpeningForce } from './opening-force.js';

/**
 * What would bring the projected area down to what the press holds at the top of the band: how many cavities could
 * stay (the largest go first, feed, runners and gates stay as drawn), and how much area must go.
 */
export function areaCures(
  drawing: Pick<MeasuredDrawing, 'projected' | 'cavities'>,
  force: OpeningForce,
  clamp: PressFacts['clamp'],
): Cure[] {
  const areaMaxMm2 = areaHeldMm2(clamp.maxKn, force.pressureMaxMpa, force.safetyFactor);
  const tooMuchMm2 = force.areaMm2 - areaMaxMm2;
  if (tooMuchMm2 <= 0) return [];
  const cures: Cure[] = [
    { code: 'less-area', amount: tooMuchMm2 / 100, unit: 'cm2', figures: { areaMaxMm2 } },
  ];
  const largestFirst = drawing.cavities.map(({ areaMm2 }) => areaMm2).sort((a, b) => b - a);
  let areaMm2 = force.areaMm2;
  let kept = largestFirst.length;
  for (const cavityMm2 of largestFirst) {
    if (areaMm2 <= areaMaxMm2) break;
    areaMm2 -= cavityMm2;
    kept -= 1;
  }
  if (kept > 0) {
    const figures = { cavities: largestFirst.length, areaMm2, areaMaxMm2 };
    cures.unshift({ code: 'fewer-cavities', amount: kept, unit: '', figures });
  }
  return cures;
}
