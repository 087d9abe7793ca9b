interface HoldGround {
  readonly cavityPressureMpa: { readonly min: number; readonly max: number };
  readonly maxPressureMpa: number;
  readonly intensification: number | null;
}

export interface HoldStep {
  readonly holdMpa: number;
  readonly holdGaugeBar: number | null;
}

const BAR_PER_MPA = 10;

/**
 * Hold pressure in three steps, in the melt at the screw: half the lower end of the polymer's cavity pressure, its
 * lower end, its middle; never more than the press has. Pressure falls on the way to the cavity, so that what the
 * clamp was set for, the top of the band, is not reached. Common practice, no source.
 */
export function holdSteps({ cavityPressureMpa, maxPressureMpa, intensification }: HoldGround): HoldStep[] {
  const { min, max } = cavityPressureMpa;
  const wanted = [min / 2, min, (min + max) / 2].map((mpa) => Math.min(mpa, maxPressureMpa));
  return [...new Set(wanted)].map((holdMpa) => ({
    holdMpa,
    holdGaugeBar: intensification === null ? null : gaugeBar(holdMpa, intensification),
  }));
}

/**
 * What the hydraulic gauge shows while the screw presses with a pressure: p_oil = p_melt / intensification.
 * Source of the method: Plastics Technology, Understanding intensification ratio.
 */
export function gaugeBar(meltMpa: number, intensification: number): number {
  return (meltMpa * BAR_PER_MPA) / intensification;
}
