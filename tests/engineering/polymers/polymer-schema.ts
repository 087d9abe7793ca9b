import { z } from 'zod';

const MEMORY = 'handbook value, from memory';
const PRACTICE = 'common practice, no source';

/** A source and its basis say the same: remembered and practised figures by their exact words, others by a name. */
function originAgrees({ source, basis }: { source: string; basis: string }): boolean {
  if (basis === 'memory') return source === MEMORY;
  if (basis === 'practice') return source === PRACTICE;
  return source !== MEMORY && source !== PRACTICE && source.length > 8;
}

const origin = { source: z.string().min(1), basis: z.enum(['sourced', 'computed', 'memory', 'practice']) };

/** A figure inside what its physical quantity can be at all for a moulded thermoplastic. */
function figure(least: number, most: number) {
  return z.strictObject({ value: z.number().min(least).max(most), ...origin }).refine(originAgrees);
}

function band(least: number, most: number) {
  const number = z.number().min(least).max(most);
  return z
    .strictObject({ min: number, usual: number, max: number, ...origin })
    .refine(originAgrees)
    .refine(({ min, usual, max }) => min <= usual && usual <= max, 'min, usual, max in this order');
}

const degrees = (least: number, most: number) => z.number().min(least).max(most);

const temperatureSet = z
  .strictObject({
    name: z.enum(['low', 'usual', 'high']),
    meltC: degrees(140, 340),
    mouldC: degrees(10, 130),
    ejectionC: degrees(35, 150),
    state: z.enum(['amorphous', 'crystalline']).optional(),
  })
  .refine(({ meltC, mouldC, ejectionC }) => mouldC < ejectionC && ejectionC < meltC, 'mould, ejection, melt');

const temperatures = z.strictObject({
  meltC: band(140, 345),
  meltLimitC: figure(200, 360).nullable(),
  mouldC: band(5, 150),
  mouldFloorC: figure(20, 90).nullable(),
  mouldCeilingC: figure(30, 130),
  noFlowC: band(60, 260),
  sets: z.tuple([temperatureSet, temperatureSet, temperatureSet]),
  setsOrigin: z.strictObject(origin).refine(originAgrees),
});

const drying = z.strictObject({
  needed: z.boolean(),
  neededOrigin: z.strictObject(origin).refine(originAgrees),
  hygroscopic: z.boolean(),
  freshBagIsDry: z.boolean(),
  temperatureC: band(40, 170),
  hours: band(0.5, 16),
  moistureMaxPercent: figure(0.005, 0.5),
  trayDepthMm: figure(10, 60),
  airOvenFactor: band(1, 5).nullable(),
  sealedUntilHours: figure(1, 72).nullable(),
  openMinutes: figure(1, 120).nullable(),
});

/** What a polymer of the data file must look like; every field is known, and nothing else is there. */
export const polymerSchema = z.strictObject({
  symbol: z.string().regex(/^[A-Z0-9-]{2,6}$/),
  iso1043: z.string().regex(/^[A-Z0-9-]{2,6}$/),
  name: z.string().min(3),
  structure: z.enum(['semicrystalline', 'amorphous', 'elastomer']),
  barrelFamily: z.enum(['acetal', 'halogen']).nullable(),
  fumes: z
    .strictObject({
      kinds: z
        .array(z.enum(['formaldehyde', 'hydrogen-chloride', 'styrene', 'monomer', 'isocyanate', 'irritant']))
        .min(1),
      ...origin,
    })
    .refine(originAgrees),
  solidDensityGPerCm3: band(0.85, 1.5),
  meltDensityGPerCm3: band(0.7, 1.4),
  conductivityWPerMK: band(0.1, 0.5),
  specificHeatJPerGK: band(0.8, 2.6),
  diffusivityMm2PerS: band(0.05, 0.15),
  enthalpyJPerG: band(150, 750),
  temperatures,
  flow: z
    .strictObject({
      points: z
        .array(
          z.strictObject({
            meltC: degrees(140, 340),
            exponent: z.number().gt(0).max(1),
            consistencyPaSn: z.number().positive().max(200_000),
          }),
        )
        .min(1),
      ...origin,
    })
    .refine(originAgrees)
    .nullable(),
  shearRateMaxPerS: figure(10_000, 200_000),
  wallStressMaxMpa: figure(0.05, 1),
  flowRatioMax: band(40, 400),
  injectionPressureMpa: band(10, 200).nullable(),
  cavityPressureMpa: band(10, 110),
  residence: z
    .strictObject({
      heatSensitive: z.boolean(),
      points: z
        .array(
          z.strictObject({ meltC: degrees(140, 340).nullable(), minutes: z.number().positive().max(90) }),
        )
        .min(1),
      ...origin,
    })
    .refine(originAgrees),
  regrindMaxPercent: band(0, 50),
  ventDepthMm: band(0.005, 0.08),
  runnerDiameterMm: band(1, 14),
  drying,
  shrinkagePercent: band(0.1, 6),
  expansionPpmPerK: band(40, 250),
  modulusMpa: band(1, 5000),
  strengthMpa: band(2, 120),
  hotShare: band(0.05, 1),
  frictionOnMetal: band(0.05, 1.2),
  draftMinDeg: figure(0.25, 3),
});
