import type { Step } from '../finding.js';
import type { MeltCase } from '../melt/melt-case.js';
import type { PlateWarming } from './plate-warming.js';

/**
 * How a plate warms, as far as paper goes: heat of a shot, power, what of it the plate takes, how fast it begins to
 * rise, and when it has settled what leaves it by each way. The curve between is the same balance in steps of 30 s.
 */
export function warmingWorking({ shot, polymer, cycle }: MeltCase, warming: PlateWarming): readonly Step[] {
  const { heatPerShotJ, meanW, steadyPlateC, balance } = warming;
  const { capacityJPerK, inputW } = balance;
  const enthalpy = polymer.enthalpyJPerG;
  const ways = balance.ways.map((way) => {
    const overK = steadyPlateC - way.toC;
    return { ...way, overK, watts: way.conductanceWPerK * overK };
  });
  const metal = {
    source: 'contacts, still air and water: handbook value, from memory',
    basis: 'memory',
  } as const;
  return [
    {
      says: 'shot-heat',
      figures: { massG: shot.massG, jPerG: enthalpy.max, polymer: polymer.symbol, heatJ: heatPerShotJ },
      source: `heat a gram gives up, its larger end: ${enthalpy.source}`,
      basis: enthalpy.basis,
    },
    {
      says: 'mean-power',
      figures: { heatJ: heatPerShotJ, everyS: heatPerShotJ / meanW, cycleS: cycle.totalS, meanW },
      source: 'a shot in every cycle',
      basis: 'computed',
    },
    {
      says: 'into-plate',
      figures: { meanW, sharePercent: (100 * inputW) / meanW, inputW },
      source: 'by the faces that the melt touches',
      basis: 'computed',
    },
    {
      says: 'begins',
      figures: { inputW, capacityJPerK, kPerMin: (60 * inputW) / capacityJPerK },
      source: 'density and specific heat of the plate: handbook value, from memory',
      basis: 'memory',
    },
    ...ways.map(
      ({ to, ...way }): Step => ({ says: `to-${to}`, figures: { ...way, plateC: steadyPlateC }, ...metal }),
    ),
    {
      says: 'balance',
      figures: { watts: ways.map(({ watts }) => watts), inputW, steadyC: steadyPlateC },
      source: 'what comes in goes out',
      basis: 'computed',
    },
  ];
}
