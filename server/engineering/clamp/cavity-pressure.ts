import type { Polymer } from '../polymers/polymer.js';

/** How hard the cavities are to fill. */
export interface FlowMeasure {
  /** Of the worst cavity: how far melt flows in it, over its wall. */
  readonly flowRatio: number;
  /** The thinnest cavity's wall, mm. */
  readonly wallMm: number;
}

/** Mean pressure on the projected area while the cavities are packed, MPa. */
export interface CavityPressure {
  readonly minMpa: number;
  readonly maxMpa: number;
  /** Which part of the polymer's band it is, or how it was carried beyond. */
  readonly band: 'whole' | 'upper-half' | 'beyond';
}

/**
 * Thin walls and long flow take the upper half of a polymer's pressure band: walls under 1.5 mm, or a flow length of
 * more than 150 walls. Common practice, no source; the direction is published (Jake Tuczapski, Clamp tonnage, PDI
 * tech tip: the usual 2 to 5 US ton/in2 hold for walls of about 2.5 mm and ordinary flow lengths).
 */
const THIN_WALL_MM = 1.5;
const LONG_FLOW_RATIO = 150;
/** Beyond this the usual bands no longer hold (Tuczapski as above: about 200:1). */
const LONGEST_FLOW_RATIO = 200;

/**
 * The pressure band of a polymer for a flow ratio and a wall. Beyond 200:1 it grows with the flow length, as the drop
 * along a channel of one section does. Never falls as the flow gets longer or the wall thinner.
 */
export function cavityPressureOf(
  { cavityPressureMpa: { min, max } }: Pick<Polymer, 'cavityPressureMpa'>,
  { flowRatio, wallMm }: FlowMeasure,
): CavityPressure {
  const middle = (min + max) / 2;
  if (flowRatio > LONGEST_FLOW_RATIO) {
    const further = flowRatio / LONGEST_FLOW_RATIO;
    return { minMpa: middle * further, maxMpa: max * further, band: 'beyond' };
  }
  if (wallMm < THIN_WALL_MM || flowRatio > LONG_FLOW_RATIO) {
    return { minMpa: middle, maxMpa: max, band: 'upper-half' };
  }
  return { minMpa: min, maxMpa: max, band: 'whole' };
}
