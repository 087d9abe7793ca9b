import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Finding, Step } from '../finding.js';
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
    working: workingOf(force, polymer, clamp),
    source: `cavity pressure of ${polymer.symbol}: ${polymer.cavityPressureMpa.source}`,
    basis: polymer.cavityPressureMpa.basis,
  };
}

function workingOf(
  { pressureMinMpa, pressureMaxMpa, pressureBand, flow, areaMm2, safetyFactor, requiredMaxKn }: OpeningForce,
  { symbol, cavityPressureMpa }: Polymer,
  { maxKn }: PressFacts['clamp'],
): readonly Step[] {
  const { source, basis } = cavityPressureMpa;
  const drawn = { source: 'geometry of the cuts', basis: 'computed' } as const;
  const openingKn = requiredMaxKn / safetyFactor;
  const band = { polymer: symbol, pressureMinMpa, pressureMaxMpa, usualMaxMpa: cavityPressureMpa.max };
  return [
    { says: 'flow', figures: { ratio: flow.flowRatio, wallMm: flow.wallMm }, ...drawn },
    { says: `pressure-${pressureBand}`, figures: { ...band, ratio: flow.flowRatio }, source, basis },
    { says: 'area', figures: { areaMm2 }, ...drawn },
    {
      says: 'opening-force',
      figures: { pressureMpa: pressureMaxMpa, areaMm2, openingKn },
      source: 'F = p A: Jake Tuczapski, Clamp tonnage, PDI tech tip',
      basis: 'computed',
    },
    {
      says: 'required',
      figures: { openingKn, safetyFactor, requiredKn: requiredMaxKn },
      source: 'safety 10 to 20 %: IPLAS, Clamp tonnage; as the shop rules have it',
      basis: 'sourced',
    },
    {
      says: 'left',
      figures: { settableKn: maxKn, requiredKn: requiredMaxKn, leftKn: maxKn - requiredMaxKn },
      source: "the press's largest setting",
      basis: 'machine',
    },
  ];
}
