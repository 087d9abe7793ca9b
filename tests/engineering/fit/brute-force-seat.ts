import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import type { BolsterFacts, CheckRules } from '../../../server/engineering/press-facts.js';

/** How far the best motion found is from fitting, mm: positive misses, negative has that much to spare. */
export interface BruteForceSeat {
  readonly withFeedMm: number;
  readonly angleDeg: number;
}

const ANGLE_STEP_DEG = 0.1;
const LOOSE_MM = 1.6;
const TERNARY_STEPS = 20;
/** What the ternary searches leave, mm. */
export const BRUTE_FORCE_BAND_MM = 1e-3;

/**
 * Tries every tenth of a degree with the feed on the sprue, and refines each angle at which every hole is near a
 * tapped hole of its own by nested ternary searches over angle and both shifts. Slow and plain on purpose.
 */
export function bruteForceSeat(
  drawing: MeasuredDrawing,
  bolster: BolsterFacts,
  screwDiameterMm: number,
  rules: CheckRules,
): BruteForceSeat {
  const bolts = drawing.bolts.map((bolt) => ({
    x: bolt.at.x - drawing.feed.at.x,
    y: bolt.at.y - drawing.feed.at.y,
    play: (bolt.diameterMm - screwDiameterMm) / 2 - rules.plateHolePositionMm,
  }));
  const feedPlay = Math.max((drawing.feed.diameterMm - bolster.sprue.partingFaceDiameterMm) / 2, 0.05);
  let best: BruteForceSeat = { withFeedMm: Number.POSITIVE_INFINITY, angleDeg: 0 };
  let lastRefined = -10;
  for (let angle = 0; angle < 360; angle += ANGLE_STEP_DEG) {
    const partners = bolts.map((bolt) => nearest(bolster, place(bolt, angle, 0, 0)));
    if (partners.some((partner) => partner.apart > LOOSE_MM)) continue;
    if (new Set(partners.map((partner) => partner.hole)).size < bolts.length) continue;
    if (angle - lastRefined < 0.35) continue;
    lastRefined = angle;
    const miss = (turn: number, x: number, y: number) => {
      let worst = Math.hypot(x, y) - feedPlay;
      for (const [index, bolt] of bolts.entries()) {
        const partner = partners[index];
        if (partner === undefined) continue;
        const at = place(bolt, turn, x, y);
        const error = Math.hypot(at.x - partner.hole.at.x, at.y - partner.hole.at.y);
        worst = Math.max(worst, error - bolt.play + partner.hole.positionMm);
      }
      return worst;
    };
    const shifts = (turn: number) =>
      ternary(-0.6, 0.6, (x) => ternary(-0.6, 0.6, (y) => miss(turn, x, y)).value).value;
    const found = ternary(angle - 0.6, angle + 0.6, shifts);
    if (found.value < best.withFeedMm) best = { withFeedMm: found.value, angleDeg: found.at };
  }
  return best;
}

function place(point: { readonly x: number; readonly y: number }, angleDeg: number, x: number, y: number) {
  const angle = (angleDeg * Math.PI) / 180;
  return {
    x: Math.cos(angle) * point.x - Math.sin(angle) * point.y + x,
    y: Math.sin(angle) * point.x + Math.cos(angle) * point.y + y,
  };
}

function nearest(bolster: BolsterFacts, point: { readonly x: number; readonly y: number }) {
  return bolster.holes
    .map((hole) => ({ hole, apart: Math.hypot(hole.at.x - point.x, hole.at.y - point.y) }))
    .reduce((one, other) => (other.apart < one.apart ? other : one));
}

function ternary(from: number, to: number, value: (at: number) => number) {
  let low = from;
  let high = to;
  for (let step = 0; step < TERNARY_STEPS; step++) {
    const a = low + (high - low) / 3;
    const b = high - (high - low) / 3;
    if (value(a) <= value(b)) high = b;
    else low = a;
  }
  const at = (low + high) / 2;
  return { at, value: value(at) };
}
