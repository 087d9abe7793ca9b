import type { Band, Figure, Origin } from './figures.js';

/** How its solid is built: it decides how it shrinks, when it freezes and what it bears while hot. */
export type PolymerStructure = 'semicrystalline' | 'amorphous' | 'elastomer';

/**
 * Acetal and halogenated polymers break each other down, with toxic gas and pressure: a barrel holds one of these
 * families or neither.
 */
export type BarrelFamily = 'acetal' | 'halogen';

/** What its vapour is worst for when it is overheated or held too long. */
export type Fume = 'formaldehyde' | 'hydrogen-chloride' | 'styrene' | 'monomer' | 'isocyanate' | 'irritant';

/** Melt, mould and ejection temperatures that belong together; the mould is always cooler than the part at ejection. */
export interface TemperatureSet {
  readonly name: 'low' | 'usual' | 'high';
  readonly meltC: number;
  readonly mouldC: number;
  readonly ejectionC: number;
  /** Where a polymer is moulded in two ways that do not mix: quenched clear in a cold mould, or crystalline in a hot one. */
  readonly state?: 'amorphous' | 'crystalline';
}

export interface PolymerTemperatures {
  /** What is published for the melt; the sets lie inside. */
  readonly meltC: Band;
  /** Never hotter than this, where the source says so. */
  readonly meltLimitC: Figure | null;
  /** What is published for the mould. */
  readonly mouldC: Band;
  /** Colder than this the part itself suffers (crystals, frozen stress); null where only gloss does. */
  readonly mouldFloorC: Figure | null;
  /** Hotter than this parts no longer come off sound. */
  readonly mouldCeilingC: Figure;
  /** The melt no longer flows below this; from here on a part shrinks onto what stands in it. */
  readonly noFlowC: Band;
  /**
   * Three sets, from the coldest to the hottest. A band of any result is taken over these, and over no other mix, nor
   * over two states: see `setsLikeUsual`.
   */
  readonly sets: readonly [TemperatureSet, TemperatureSet, TemperatureSet];
  readonly setsOrigin: Origin;
}

/** A melt that follows tau = K g^n at one temperature (tau in Pa, g in 1/s), about from 100 to 7000 1/s. */
export interface FlowPoint {
  readonly meltC: number;
  /** n */
  readonly exponent: number;
  /** K, Pa s^n */
  readonly consistencyPaSn: number;
}

/** Measured points of one generic grade; pressure from it is good to a factor of two. */
export interface FlowCurve extends Origin {
  readonly points: readonly [FlowPoint, ...FlowPoint[]];
}

/** How long the melt bears its heat: longest stay in the barrel by melt temperature, coldest first. */
export interface ResidenceLimit extends Origin {
  /** Breaks down on its own once it starts, so that a pause is never the cure. */
  readonly heatSensitive: boolean;
  /** `meltC` null: said without a temperature. */
  readonly points: readonly [
    { readonly meltC: number | null; readonly minutes: number },
    ...{ readonly meltC: number; readonly minutes: number }[],
  ];
}

/** How it is dried, and how long it stays dry. */
export interface Drying {
  /** Pellets from an ordinary open sack must be dried. */
  readonly needed: boolean;
  readonly neededOrigin: Origin;
  /** Takes water into the pellet, not only onto it. */
  readonly hygroscopic: boolean;
  /** Straight from an unopened moisture-proof bag it may be used without drying. */
  readonly freshBagIsDry: boolean;
  readonly temperatureC: Band;
  readonly hours: Band;
  readonly moistureMaxPercent: Figure;
  /** Layer in an oven tray, at most. */
  readonly trayDepthMm: Figure;
  /** Hours take this many times as long in an oven with circulating room air as in dried air; null: no matter. */
  readonly airOvenFactor: Band | null;
  /** In a lidded pail with gasket and desiccant; null where it does not take up water. */
  readonly sealedUntilHours: Figure | null;
  /** In an open hopper or tray; null where it does not take up water. */
  readonly openMinutes: Figure | null;
}

/** A polymer family as shops know it; a grade's own data sheet always overrules. `null` is: not known. */
export interface Polymer {
  /** The short name used everywhere in this program. */
  readonly symbol: string;
  /** The symbol of ISO 1043-1, where it is written differently (`PE-HD` for HDPE). */
  readonly iso1043: string;
  readonly name: string;
  readonly structure: PolymerStructure;
  readonly barrelFamily: BarrelFamily | null;
  readonly fumes: Origin & { readonly kinds: readonly Fume[] };

  readonly solidDensityGPerCm3: Band;
  readonly meltDensityGPerCm3: Band;
  readonly conductivityWPerMK: Band;
  /** Of the solid at room temperature; over the whole way from melt to ejection take `enthalpyJPerG`. */
  readonly specificHeatJPerGK: Band;
  /** The one to cool with; not conductivity over density and specific heat. */
  readonly diffusivityMm2PerS: Band;
  /** From melt to ejection. */
  readonly enthalpyJPerG: Band;

  readonly temperatures: PolymerTemperatures;

  /** Null: no generic set that can be trusted. */
  readonly flow: FlowCurve | null;
  readonly shearRateMaxPerS: Figure;
  readonly wallStressMaxMpa: Figure;
  /** Longest flow over wall, at walls of about 2.5 mm. */
  readonly flowRatioMax: Band;
  /** What is published for the injection pressure; null: nothing found. */
  readonly injectionPressureMpa: Band | null;
  /**
   * Mean pressure on the projected area while the cavities are packed: the band for ordinary walls. How it moves with
   * wall and flow ratio: `clamp/cavity-pressure.ts`.
   */
  readonly cavityPressureMpa: Band;
  readonly residence: ResidenceLimit;
  readonly regrindMaxPercent: Band;

  /** Depth of a vent's land; melt gets into any gap deeper than its upper end. */
  readonly ventDepthMm: Band;
  readonly runnerDiameterMm: Band;
  /** Null: not known, as with recyclate that was washed. */
  readonly drying: Drying | null;

  /** Linear, of the cavity; null: not known. */
  readonly shrinkagePercent: Band | null;
  /** Linear thermal expansion of the solid, 1e-6 per K. */
  readonly expansionPpmPerK: Band;
  /** In tension at room temperature. */
  readonly modulusMpa: Band;
  /** Yield or break in tension at room temperature, whichever is first. */
  readonly strengthMpa: Band;
  /** Share of modulus and strength that is left at ejection. */
  readonly hotShare: Band;
  /** On milled and polished metal, as the part lets go. */
  readonly frictionOnMetal: Band;
  /** Least draft of a wall, each side. */
  readonly draftMinDeg: Figure;
}

/** The sets that a part of the usual one could also be moulded at: those of its state. */
export function setsLikeUsual({ sets }: Pick<PolymerTemperatures, 'sets'>): readonly TemperatureSet[] {
  const [, { state }] = sets;
  return sets.filter((set) => set.state === state);
}
