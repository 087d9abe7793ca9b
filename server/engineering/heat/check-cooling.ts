import type { Finding } from '../finding.js';
import type { MeltCase } from '../melt/melt-case.js';
import { setsLikeUsual } from '../polymers/polymer.js';
import { coolingWorking } from './cooling-working.js';
import { sectionCoolingS } from './cycle.js';

/**
 * How long until parts can be taken out: the slowest section to its middle, as slab or bar, at the polymer's
 * sets of temperatures that belong together. Runner and sprue only need a skin to be gripped by: their mean. There
 * is no limit to it; the time goes into cycle, cost and stay in the barrel.
 * Source: Fourier's solution as moulding texts print it (Routsis Training, Calculating cooling time, centre of a slab).
 */
export function checkCooling(melt: MeltCase): Finding {
  const { sections, polymer, cycle } = melt;
  const slowest = sections.reduce((worst, next) => (next.thicknessMm > worst.thicknessMm ? next : worst));
  const times = setsLikeUsual(polymer.temperatures).map((set) => sectionCoolingS(slowest, polymer, set));
  const { source, basis } = polymer.diffusivityMm2PerS;
  const [, usual] = polymer.temperatures.sets;
  const isRunner = cycle.governedBy !== 'part';
  return {
    check: 'cooling',
    verdict: 'clear',
    situation: isRunner ? 'runner-governs' : 'part-governs',
    figure: cycle.coolS,
    limit: null,
    allowed: null,
    unit: 's',
    margin: null,
    figures: {
      polymer: polymer.symbol,
      depthMm: slowest.depthMm,
      widthMm: slowest.widthMm,
      thicknessMm: slowest.thicknessMm,
      shape: slowest.widthMm < 4 * slowest.depthMm ? 'bar' : 'slab',
      partMinS: Math.min(...times),
      partS: cycle.partCoolS,
      partMaxS: Math.max(...times),
      governedBy: cycle.governedBy,
      coolS: cycle.coolS,
      diffusivityMm2PerS: polymer.diffusivityMm2PerS.usual,
      meltC: usual.meltC,
      mouldC: usual.mouldC,
      ejectionC: usual.ejectionC,
      ...(usual.state !== undefined && { state: usual.state }),
      dryS: cycle.dryS,
      fillS: cycle.fillS,
      holdS: cycle.holdS,
      cycleS: cycle.totalS,
    },
    places: [slowest.at],
    cures: [],
    working: coolingWorking(melt),
    source: `diffusivity of ${polymer.symbol}: ${source}`,
    basis,
  };
}
