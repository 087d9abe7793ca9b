import { published, publishedBand } from './figures.js';
import type { Drying, Polymer, PolymerTemperatures } from './polymer.js';

/** Bounds of a figure that no thermoplastic passes, and its unit. Common practice, no source. */
interface Bounds {
  readonly least: number;
  readonly most: number;
  readonly unit: string;
}

/** What the maker's data sheet says; null where it does not. Ranges are as the sheet has them. */
export interface GradeFigures {
  readonly meltMinC: number | null;
  readonly meltMaxC: number | null;
  readonly mouldMinC: number | null;
  readonly mouldMaxC: number | null;
  readonly ejectionC: number | null;
  readonly dryingC: number | null;
  /** 0: it needs no drying. */
  readonly dryingHours: number | null;
  readonly densityGPerCm3: number | null;
  readonly shrinkageMinPercent: number | null;
  readonly shrinkageMaxPercent: number | null;
  readonly residenceMin: number | null;
  /** Melt flow by mass or volume; to tell sacks and regrind apart, not to compute with. */
  readonly meltFlowGPer10Min: number | null;
  readonly meltFlowCm3Per10Min: number | null;
  readonly meltFlowC: number | null;
  readonly meltFlowKg: number | null;
}

export type GradeFigure = keyof GradeFigures;

export const GRADE_BOUNDS: { readonly [figure in GradeFigure]: Bounds } = {
  meltMinC: { least: 120, most: 420, unit: '°C' },
  meltMaxC: { least: 120, most: 420, unit: '°C' },
  mouldMinC: { least: 5, most: 200, unit: '°C' },
  mouldMaxC: { least: 5, most: 200, unit: '°C' },
  ejectionC: { least: 25, most: 250, unit: '°C' },
  dryingC: { least: 35, most: 200, unit: '°C' },
  dryingHours: { least: 0, most: 48, unit: 'h' },
  densityGPerCm3: { least: 0.8, most: 2.5, unit: 'g/cm³' },
  shrinkageMinPercent: { least: 0, most: 6, unit: '%' },
  shrinkageMaxPercent: { least: 0, most: 6, unit: '%' },
  residenceMin: { least: 0.5, most: 120, unit: 'min' },
  meltFlowGPer10Min: { least: 0.05, most: 2000, unit: 'g/10 min' },
  meltFlowCm3Per10Min: { least: 0.05, most: 2000, unit: 'cm³/10 min' },
  meltFlowC: { least: 120, most: 420, unit: '°C' },
  meltFlowKg: { least: 0.3, most: 25, unit: 'kg' },
};

export const GRADE_FIGURES = Object.keys(GRADE_BOUNDS) as readonly GradeFigure[];

/** A resin grade of the house: a polymer family as its maker's data sheet has it. */
export interface Grade {
  /** Symbol of the polymer family. */
  readonly polymer: string;
  readonly sheetTitle: string;
  /** `2026-03-01` */
  readonly sheetDate: string;
  readonly isPostConsumer: boolean;
  /** With a halogenated flame retardant: never in one barrel with acetal. */
  readonly isHalogenated: boolean;
  /** Glass, mineral and the like, percent by mass. */
  readonly fillerPercent: number;
  readonly figures: GradeFigures;
}

/** A filled or flame-retarded melt bears half the shear. Common practice, no source. */
const SHEAR_SHARE = 0.5;

/**
 * The polymer of a grade: the family, overruled by what the data sheet says. What a filler changes and the sheet does
 * not say is not known: shrinkage. Nor is the drying of post-consumer recyclate, which was washed. The result is not
 * checked here: see `gradeFaults`.
 */
export function polymerOfGrade(family: Polymer, grade: Grade): Polymer {
  const { figures } = grade;
  const sheet = `data sheet: ${grade.sheetTitle}, ${grade.sheetDate}`;
  const { densityGPerCm3, residenceMin, shrinkageMinPercent: least, shrinkageMaxPercent: most } = figures;
  const isFilled = grade.fillerPercent > 0;
  const halved = isFilled || grade.isHalogenated;
  return {
    ...family,
    barrelFamily: family.barrelFamily ?? (grade.isHalogenated ? 'halogen' : null),
    temperatures: temperaturesOf(family.temperatures, figures, sheet),
    drying: dryingOf(family.drying, grade, sheet),
    shearRateMaxPerS: halved
      ? { ...family.shearRateMaxPerS, value: family.shearRateMaxPerS.value * SHEAR_SHARE }
      : family.shearRateMaxPerS,
    shrinkagePercent:
      least !== null && most !== null
        ? publishedBand(sheet, least, most)
        : isFilled
          ? null
          : family.shrinkagePercent,
    ...(densityGPerCm3 !== null && densitiesOf(family, densityGPerCm3, sheet)),
    ...(residenceMin !== null && {
      residence: {
        heatSensitive: family.residence.heatSensitive,
        points: [{ meltC: null, minutes: residenceMin }],
        source: sheet,
        basis: 'sourced',
      },
    }),
  };
}

/** The melt is lighter than the solid by the share it is in the family. */
function densitiesOf(family: Polymer, densityGPerCm3: number, sheet: string) {
  const { solidDensityGPerCm3: solid, meltDensityGPerCm3: melt } = family;
  const times = densityGPerCm3 / solid.usual;
  return {
    solidDensityGPerCm3: publishedBand(sheet, densityGPerCm3),
    meltDensityGPerCm3: { ...melt, min: melt.min * times, usual: melt.usual * times, max: melt.max * times },
  };
}

function temperaturesOf(
  family: PolymerTemperatures,
  { meltMinC, meltMaxC, mouldMinC, mouldMaxC, ejectionC }: GradeFigures,
  sheet: string,
): PolymerTemperatures {
  if (
    meltMinC === null ||
    meltMaxC === null ||
    mouldMinC === null ||
    mouldMaxC === null ||
    ejectionC === null
  )
    return family;
  const meltC = publishedBand(sheet, meltMinC, meltMaxC);
  const mouldC = publishedBand(sheet, mouldMinC, mouldMaxC);
  return {
    ...family,
    meltC,
    mouldC,
    mouldCeilingC: published(sheet, mouldMaxC),
    mouldFloorC: family.mouldFloorC === null ? null : published(sheet, mouldMinC),
    sets: [
      { name: 'low', meltC: meltMinC, mouldC: mouldMinC, ejectionC },
      { name: 'usual', meltC: meltC.usual, mouldC: mouldC.usual, ejectionC },
      { name: 'high', meltC: meltMaxC, mouldC: mouldMaxC, ejectionC },
    ],
    setsOrigin: { source: sheet, basis: 'sourced' },
  };
}

function dryingOf(family: Drying | null, { figures, isPostConsumer }: Grade, sheet: string): Drying | null {
  const { dryingC, dryingHours } = figures;
  if (dryingHours === null) return isPostConsumer ? null : family;
  if (family === null) return null;
  const origin = { source: sheet, basis: 'sourced' } as const;
  if (dryingHours === 0) return { ...family, needed: false, neededOrigin: origin };
  return {
    ...family,
    needed: true,
    neededOrigin: origin,
    freshBagIsDry: family.needed && family.freshBagIsDry,
    hours: publishedBand(sheet, dryingHours),
    ...(dryingC !== null && { temperatureC: publishedBand(sheet, dryingC) }),
  };
}
