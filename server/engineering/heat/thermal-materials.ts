import { ALLOY_FACTS } from '../materials/alloys.js';
import { ALLOYS, type Alloy } from '../press-facts.js';

/** How a metal takes up and carries heat. */
export interface ThermalMetal {
  readonly conductivityWPerMK: number;
  readonly specificHeatJPerKgK: number;
  readonly densityKgPerM3: number;
}

/** Conductivity, W/(m K), and specific heat, J/(kg K). All handbook value, from memory. */
const HEAT: { readonly [alloy in Alloy]: readonly [number, number] } = {
  'EN AW-6082-T6': [170, 900],
  'EN AW-6061-T6': [167, 896],
  'EN AW-5083': [120, 900],
  'EN AW-7075-T6': [130, 960],
  'cast-plate': [110, 900],
  steel: [45, 470],
  brass: [115, 380],
};

/** A metal of the alloy table as heat sees it; an unknown name is taken as steel, which carries heat worst. */
export function thermalMetal(name: string): ThermalMetal {
  const alloy = ALLOYS.find((one) => one === name) ?? 'steel';
  const [conductivityWPerMK, specificHeatJPerKgK] = HEAT[alloy];
  return { conductivityWPerMK, specificHeatJPerKgK, densityKgPerM3: ALLOY_FACTS[alloy].densityKgPerM3.value };
}
