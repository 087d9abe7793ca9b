import type { Placement, Registration } from '../../server/engineering/fit/registration-result.js';

/** A registration given by hand: the plate fits, turned and shifted as said. */
export function placedAt(placement: Placement = { rotationDeg: 0, shift: { x: 0, y: 0 } }): Registration {
  return {
    fits: true,
    holesFit: true,
    feedFits: true,
    outlineFits: true,
    rotationDeg: placement.rotationDeg,
    mirroredFits: false,
    floatMm: placement.shift,
    worstErrorMm: 0,
    worstErrorAfterFloatMm: 0,
    allowanceMm: 0.2,
    feedOffset: { x: 0, y: 0 },
    leastFeedOffsetMm: 0,
    feedAllowanceMm: 0.25,
    placement,
    matches: [],
  };
}
