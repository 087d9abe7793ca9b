import type { MeasuredDrawing } from '../../engineering/drawing/measured-drawing.js';
import type { Registration } from '../../engineering/fit/registration-result.js';
import { regionContains, ringContains } from '../../engineering/geometry/contains.js';
import type { Point } from '../../engineering/geometry/point.js';
import { depthAreas } from '../../pictures/depth-steps.js';
import { placementOf } from '../../pictures/placement.js';
import type { Damage } from './store.js';

/** How damage and a plate meet: the plate rests on it, its land closes on it, or a cut lies opposite it. */
export type Meeting = 'rests' | 'land' | 'cut';

export interface DamageMet {
  readonly damage: Damage;
  readonly meeting: Meeting;
}

/**
 * Damage to a bolster's faces that a plate lies over as it goes onto it: of the moving half all that is behind the
 * plate, of the fixed half all that its face closes on. None where it is not known how the plate goes on.
 */
export function damageUnderPlate(
  drawing: MeasuredDrawing,
  registration: Pick<Registration, 'placement'>,
  open: readonly Damage[],
): readonly DamageMet[] {
  if (registration.placement === null || open.length === 0) return [];
  const place = placementOf(drawing, registration);
  const outline = drawing.plate.outline.map(place);
  const openings = drawing.plate.openings.map((ring) => ring.map(place));
  const cuts = depthAreas(drawing).map(({ region }) => region.map((ring) => ring.map(place)));
  return open.flatMap((damage): readonly DamageMet[] => {
    const at: Point = { x: damage.xMm, y: -damage.yMm };
    if (!ringContains(outline, at) || regionContains(openings, at)) return [];
    if (damage.half === 'moving') return [{ damage, meeting: 'rests' }];
    return [{ damage, meeting: cuts.some((region) => regionContains(region, at)) ? 'cut' : 'land' }];
  });
}
