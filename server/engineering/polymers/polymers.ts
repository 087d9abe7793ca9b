import type { Basis } from '../finding.js';

/** A polymer family as shops know it; a grade's own data sheet always overrules. */
export interface Polymer {
  /** The short name used everywhere in this program. */
  readonly symbol: string;
  /** The symbol of ISO 1043-1, where it is written differently (`PE-HD` for HDPE). */
  readonly iso1043: string;
  readonly name: string;
  /**
   * Mean pressure on the projected area while the cavities are packed, MPa: the band for ordinary walls. Walls under
   * about 1.5 mm or flow ratios over 150 take its upper half.
   */
  readonly cavityPressureMpa: {
    readonly min: number;
    readonly max: number;
    readonly source: string;
    readonly basis: Basis;
  };
}

const MEMORY = { source: 'handbook value, from memory', basis: 'memory' } as const;

/**
 * Acetal alone has a published band; the others are handbook values that agree with the general published range of
 * 28 to 69 MPa (2 to 5 US ton/in2: Jake Tuczapski, Clamp tonnage, PDI tech tip) and with 28 MPa for polyethylene
 * (vulcanmold.com, Mold clamping pressure).
 */
const ACETAL = {
  source: 'moldinghub.com, Resin data: POM (4.63 to 6.18 kN/cm2)',
  basis: 'sourced',
} as const;

function family(symbol: string, name: string, min: number, max: number, iso1043 = symbol): Polymer {
  return { symbol, iso1043, name, cavityPressureMpa: { min, max, ...MEMORY } };
}

export const POLYMERS: readonly Polymer[] = [
  family('PP', 'polypropylene', 21, 48),
  family('HDPE', 'high-density polyethylene', 21, 41, 'PE-HD'),
  family('LDPE', 'low-density polyethylene', 14, 34, 'PE-LD'),
  family('PS', 'polystyrene, general purpose', 21, 41),
  family('HIPS', 'high-impact polystyrene', 21, 41, 'PS-HI'),
  family('ABS', 'acrylonitrile-butadiene-styrene', 34, 55),
  family('SAN', 'styrene-acrylonitrile', 34, 55),
  family('PA6', 'polyamide 6', 41, 69),
  family('PA66', 'polyamide 66', 41, 69),
  {
    symbol: 'POM',
    iso1043: 'POM',
    name: 'acetal (polyoxymethylene)',
    cavityPressureMpa: { min: 46, max: 62, ...ACETAL },
  },
  family('PC', 'polycarbonate', 41, 69),
  family('PMMA', 'acrylic', 28, 55),
  family('PET', 'poly(ethylene terephthalate)', 28, 55),
  family('PETG', 'glycol-modified PET copolyester', 34, 55),
  family('PBT', 'poly(butylene terephthalate)', 41, 62),
  family('PVC-U', 'rigid poly(vinyl chloride)', 28, 48),
  family('PVC-P', 'plasticised poly(vinyl chloride)', 21, 34),
  family('TPU', 'thermoplastic polyurethane', 28, 48),
  family('TPE-S', 'styrenic thermoplastic elastomer', 21, 34, 'TPS'),
  family('PLA', 'poly(lactic acid)', 28, 48),
];

const BY_SYMBOL: ReadonlyMap<string, Polymer> = new Map(
  POLYMERS.flatMap((polymer) => [
    [polymer.iso1043.toUpperCase(), polymer] as const,
    [polymer.symbol.toUpperCase(), polymer] as const,
  ]),
);

/** The polymer of a symbol, ours or that of ISO 1043-1, in any case; null when it is not in the table. */
export function findPolymer(symbol: string): Polymer | null {
  return BY_SYMBOL.get(symbol.trim().toUpperCase()) ?? null;
}
