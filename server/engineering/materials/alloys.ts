import type { Basis } from '../finding.js';
import { ALLOYS, type Alloy } from '../press-facts.js';

/** A figure with where it comes from. */
export interface Sourced<Value = number> {
  readonly value: Value;
  readonly source: string;
  readonly basis: Basis;
}

/** Proof stress for stock up to a thickness; the last step has no end. */
export interface ProofStep {
  readonly uptoMm: number;
  readonly proofMpa: number;
  readonly source: string;
  readonly basis: Basis;
}

/** What a plate is made of, as the checks need it. Proof stresses are the lowest the stock may have. */
export interface AlloyFacts {
  readonly densityKgPerM3: Sourced;
  readonly modulusMpa: Sourced;
  readonly poisson: Sourced;
  /** Lowest tensile strength Rm of plate up to 100 mm. */
  readonly tensileMpa: Sourced;
  /** By thickness, thinnest first. */
  readonly proof: readonly ProofStep[];
  /** Whether a screw thread in it is cut in light or copper alloy, which wants a longer engagement than steel. */
  readonly soft: boolean;
}

const FROM_MEMORY = 'handbook value, from memory';

function read(value: number, source: string): Sourced {
  return { value, source, basis: 'sourced' };
}

function remembered(value: number, source = FROM_MEMORY): Sourced {
  return { value, source, basis: 'memory' };
}

function rememberedStep(uptoMm: number, proofMpa: number, source = FROM_MEMORY): ProofStep {
  return { uptoMm, proofMpa, source, basis: 'memory' };
}

const GOULD_6082 = 'Gould Alloys, L115 (6082) plate data sheet';
const GRASP_6061 = 'graspengineering.com, 6061 (MatWeb data)';
const STEELALLOYS_5083 = 'steelalloys.blogspot.com, 5083 data sheet';
const BTIMETALS_7075 = 'btimetals.com, 7075';
const EN_485 = 'EN 485-2; handbook value, from memory';

export const ALLOY_FACTS: { readonly [alloy in Alloy]: AlloyFacts } = {
  'EN AW-6082-T6': {
    densityKgPerM3: read(2700, GOULD_6082),
    modulusMpa: read(70_000, GOULD_6082),
    poisson: remembered(0.33),
    tensileMpa: remembered(295, EN_485),
    proof: [
      rememberedStep(12.5, 255, EN_485),
      { uptoMm: 25, proofMpa: 240, source: GOULD_6082, basis: 'sourced' },
      rememberedStep(Number.POSITIVE_INFINITY, 240, EN_485),
    ],
    soft: true,
  },
  'EN AW-6061-T6': {
    densityKgPerM3: read(2700, GRASP_6061),
    modulusMpa: read(68_900, GRASP_6061),
    poisson: remembered(0.33),
    tensileMpa: remembered(290, EN_485),
    proof: [rememberedStep(Number.POSITIVE_INFINITY, 240, EN_485)],
    soft: true,
  },
  'EN AW-5083': {
    densityKgPerM3: read(2650, STEELALLOYS_5083),
    modulusMpa: read(71_000, STEELALLOYS_5083),
    poisson: remembered(0.33),
    tensileMpa: remembered(270, EN_485),
    proof: [
      { uptoMm: 6.3, proofMpa: 125, source: 'Aluminum Design Manual, Table 3.3-1M', basis: 'sourced' },
      rememberedStep(Number.POSITIVE_INFINITY, 115, EN_485),
    ],
    soft: true,
  },
  'EN AW-7075-T6': {
    densityKgPerM3: read(2810, BTIMETALS_7075),
    modulusMpa: read(71_000, BTIMETALS_7075),
    poisson: remembered(0.33),
    tensileMpa: remembered(460, EN_485),
    proof: [rememberedStep(25, 460, EN_485), rememberedStep(Number.POSITIVE_INFINITY, 360, EN_485)],
    soft: true,
  },
  'cast-plate': {
    densityKgPerM3: remembered(2660),
    modulusMpa: remembered(70_000),
    poisson: remembered(0.33),
    tensileMpa: remembered(230),
    proof: [rememberedStep(Number.POSITIVE_INFINITY, 110)],
    soft: true,
  },
  steel: {
    densityKgPerM3: remembered(7850),
    modulusMpa: remembered(210_000),
    poisson: remembered(0.3),
    tensileMpa: remembered(410),
    proof: [rememberedStep(Number.POSITIVE_INFINITY, 275)],
    soft: false,
  },
  brass: {
    densityKgPerM3: remembered(8470),
    modulusMpa: remembered(97_000),
    poisson: remembered(0.35),
    tensileMpa: remembered(360),
    proof: [rememberedStep(Number.POSITIVE_INFINITY, 140)],
    soft: true,
  },
};

/** The facts of a named alloy; null for a name the table does not have. */
export function alloyFacts(name: string): AlloyFacts | null {
  const alloy = ALLOYS.find((known) => known === name);
  return alloy === undefined ? null : ALLOY_FACTS[alloy];
}

/** Shear strength as a share of the tensile strength. Common practice, no source. */
const SHEAR_SHARE = 0.6;

/** Shear strength, MPa: 0.6 Rm. 177 for EN AW-6082-T6. */
export function shearStrengthMpa(alloy: Alloy): number {
  return SHEAR_SHARE * ALLOY_FACTS[alloy].tensileMpa.value;
}

/** The lowest proof stress of stock of that thickness, with its source. */
export function proofStressOf(alloy: Alloy, thicknessMm: number): ProofStep {
  const steps = ALLOY_FACTS[alloy].proof;
  const step = steps.find(({ uptoMm }) => thicknessMm <= uptoMm) ?? steps.at(-1);
  if (step === undefined) throw new RangeError(`no proof stress for ${alloy}`);
  return step;
}
