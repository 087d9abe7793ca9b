import type { PressFacts } from '../press-facts.js';
import { type Closing, closingRatio } from './closing.js';
import type { Land } from './land.js';
import type { OpeningForce } from './opening-force.js';

/** The least clamp forces, kN, never below the press's lowest setting; infinite where no force closes the plate. */
export interface Closure {
  readonly closing: Closing;
  /** Platens fully guided, top and middle of the pressure band: the land presses evenly, (N - F)/A. */
  readonly guidedFromKn: number;
  readonly guidedMidFromKn: number;
  /** Platens free to tilt, and guided too. */
  readonly tiltingFromKn: number;
  readonly tiltingMidFromKn: number;
  /** Lower end of the window to clamp in: closes both ways if that can be set, else guided. */
  readonly neededKn: number;
  readonly neededMidKn: number;
}

/** From which clamp force a plate closes, at the required force (safety factor included). */
export function closureOf(land: Land, force: OpeningForce, { minKn, maxKn }: PressFacts['clamp']): Closure {
  const closing = closingRatio(land.moments, land.rim, land.pushAt);
  const ratio = Math.max(1, closing.ratio);
  const guidedFromKn = Math.max(minKn, force.requiredMaxKn);
  const guidedMidFromKn = Math.max(minKn, force.requiredMidKn);
  const tiltingFromKn = Math.max(minKn, ratio * force.requiredMaxKn);
  const tiltingMidFromKn = Math.max(minKn, ratio * force.requiredMidKn);
  return {
    closing,
    guidedFromKn,
    guidedMidFromKn,
    tiltingFromKn,
    tiltingMidFromKn,
    neededKn: tiltingFromKn <= maxKn ? tiltingFromKn : guidedFromKn,
    neededMidKn: tiltingMidFromKn <= maxKn ? tiltingMidFromKn : guidedMidFromKn,
  };
}
