import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Registration } from '../fit/registration-result.js';
import type { Polymer } from '../polymers/polymers.js';
import type { BolsterFacts, CheckRules, PlateFacts, PressFacts } from '../press-facts.js';
import { type BearingLimit, bearingLimitOf } from './bearing-limit.js';
import type { FlowMeasure } from './cavity-pressure.js';
import { type Closure, closureOf } from './closure.js';
import { type Land, landOf } from './land.js';
import { type OpeningForce, openingForceOf } from './opening-force.js';

/** A plate on its bolster in a press, and what all clamp checks work out from it once. */
export interface ClampCase {
  readonly drawing: MeasuredDrawing;
  readonly plate: PlateFacts;
  readonly polymer: Polymer;
  readonly bolster: BolsterFacts;
  readonly press: PressFacts;
  readonly registration: Registration;
  readonly force: OpeningForce;
  readonly land: Land;
  readonly closure: Closure;
  readonly bearing: BearingLimit;
}

/** Works out the force, the land and from where it closes. */
export function clampCaseOf(
  given: Pick<ClampCase, 'drawing' | 'plate' | 'polymer' | 'bolster' | 'press'>,
  registration: Registration,
  rules: CheckRules,
  flow?: FlowMeasure,
): ClampCase {
  const { drawing, plate, polymer, bolster, press } = given;
  const force = openingForceOf(drawing, polymer, rules.clampSafetyFactor, flow);
  const land = landOf(drawing, plate, bolster, registration);
  return {
    ...given,
    registration,
    force,
    land,
    closure: closureOf(land, force, press.clamp),
    bearing: bearingLimitOf(plate, bolster),
  };
}
