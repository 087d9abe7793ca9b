/** What a layer name can stand for on a plate drawing. */
export const FEATURES = [
  'PLATE',
  'CAVITY',
  'RUNNER',
  'GATE',
  'VENT',
  'FEED',
  'BOLT',
  'SINK',
  'DOWEL',
  'WATER',
] as const;

export type Feature = (typeof FEATURES)[number];

/** A layer that says what its contours are: `RUNNER 3 W4` is a runner 3 mm deep, cut 4 mm wide. */
export interface FeatureLayer {
  /** As written in the file. */
  readonly name: string;
  readonly feature: Feature;
  readonly depthMm: number | null;
  readonly widthMm: number | null;
}

export type LayerMeaning =
  | { readonly kind: 'feature'; readonly layer: FeatureLayer }
  | { readonly kind: 'not-a-feature' }
  | { readonly kind: 'without-depth' }
  | { readonly kind: 'unreadable' };

const TAKES_DEPTH = new Set<Feature>(['CAVITY', 'RUNNER', 'GATE', 'VENT', 'SINK', 'WATER']);
const TAKES_WIDTH = new Set<Feature>(['CAVITY', 'RUNNER', 'GATE', 'VENT', 'WATER']);
/** Deeper or wider than the farthest coordinate a drawing may have. */
const LARGEST_MM = 10_000;
/** The longest name a DXF symbol may have. */
const LONGEST_NAME = 255;

const NUMBER = String.raw`(\d+(?:[.,P]\d+)?|[.,]\d+)`;
const AFTER_FEATURE = new RegExp(
  String.raw`^(?:[\s_-]+${NUMBER}[\s_-]*(?:MM)?)?(?:[\s_-]+W${NUMBER}[\s_-]*(?:MM)?)?[\s_-]*$`,
);
const FEATURE_FIRST = new RegExp(`^(${FEATURES.join('|')})(?![A-Z])(.*)$`, 's');

/**
 * Reads `FEATURE [depth] [W<width>]`: any case, parts parted by space, `_` or `-`, a decimal point, comma or `P`,
 * `MM` after either number; always mm. A name that opens with a feature word but has other words after it is a note of
 * the draughtsman's and no feature; one with figures that make no sense is unreadable, never guessed at.
 */
export function layerMeaning(name: string): LayerMeaning {
  if (name.length > LONGEST_NAME) return { kind: 'not-a-feature' };
  const [, word, rest] = FEATURE_FIRST.exec(name.trim().toUpperCase()) ?? [];
  if (word === undefined || rest === undefined) return { kind: 'not-a-feature' };
  const feature = word as Feature;
  const parts = AFTER_FEATURE.exec(rest);
  if (!parts) return { kind: /\d/.test(rest) ? 'unreadable' : 'not-a-feature' };
  const depthMm = millimetres(parts[1]);
  const widthMm = millimetres(parts[2]);
  if (!isSensible(feature, depthMm, widthMm)) return { kind: 'unreadable' };
  if (depthMm === null && TAKES_DEPTH.has(feature)) return { kind: 'without-depth' };
  return { kind: 'feature', layer: { name, feature, depthMm, widthMm } };
}

function millimetres(text: string | undefined): number | null {
  return text === undefined ? null : Number(text.replace(/[,P]/, '.'));
}

function isSensible(feature: Feature, depthMm: number | null, widthMm: number | null): boolean {
  if (depthMm !== null && (depthMm > LARGEST_MM || !(TAKES_DEPTH.has(feature) || feature === 'FEED')))
    return false;
  if (depthMm === 0 && (feature === 'FEED' || feature === 'WATER')) return false;
  return widthMm === null || (widthMm > 0 && widthMm <= LARGEST_MM && TAKES_WIDTH.has(feature));
}
