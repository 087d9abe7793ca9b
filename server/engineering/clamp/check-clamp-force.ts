import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Finding } from '../finding.js';
import type { Polymer } from '../polymers/polymers.js';
import type { PressFacts } from '../press-facts.js';
import { areaCures } from './fewer-cavities.js';
import type { OpeningForce } from './opening-force.js';

/**
 * Clamp force: F = mean cavity pressure x projected area x safety factor against the largest settable clamp force.
 * The pressure is a band, judged at its top; as it is a remembered figure, it stops a plate only when the middle of
 * the band passes the machine's limit. Lengths mm, pressures MPa, forces kN.
 * Source of the method: Jake Tuczapski, Clamp tonnage, PDI tech tip; IPLAS, Clamp tonnage (safety 10 to 20 %).
 */
export function checkClampForce(
  drawing: Pick<MeasuredDrawing, 'projected' | 'cavities'>,
  force: OpeningForce,
  polymer: Polymer,
  { clamp }: Pick<PressFacts, 'clamp'>,
): Finding {
  const isTopOver = force.requiredMaxKn > clamp.maxKn;
  const isMiddleOver = force.requiredMidKn > clamp.maxKn;
  return {
    check: 'clamp-force',
    verdict: isMiddleOver ? 'stop' : isTopOver ? 'caution' : 'clear',
    situation: isMiddleOver ? 'over' : isTopOver ? 'top-of-band-over' : 'within',
    figure: force.requiredMaxKn,
    limit: clamp.maxKn,
    allowed: 'at-most',
    unit: 'kN',
    margin: clamp.maxKn - force.requiredMaxKn,
    figures: {
      polymer: polymer.symbol,
      pressureMinMpa: force.pressureMinMpa,
      pressureMaxMpa: force.pressureMaxMpa,
      pressureBand: force.pressureBand,
      projectedAreaMm2: force.areaMm2,
      flowRatio: force.flow.flowRatio,
      wallMm: force.flow.wallMm,
      safetyFactor: force.safetyFactor,
      requiredMinKn: force.requiredMinKn,
      requiredMidKn: force.requiredMidKn,
      requiredMaxKn: force.requiredMaxKn,
      settableMinKn: clamp.minKn,
      settableMaxKn: clamp.maxKn,
    },
    places: isTopOver ? [drawing.projected.centroid] : [],
    cures: areaCures(drawing, force, clamp),
    source: `cavity pressure of ${polymer.symbol}: ${polymer.cavityPressureMpa.source}`,
    basis: polymer.cavityPressureMpa.basis,
  };
}
