import { granulatorCut } from './induction/granulator-cut.js';
import { guardZones } from './induction/guard-zones.js';
import { ovenTrays } from './induction/oven-trays.js';
import { purgeStance } from './induction/purge-stance.js';
import { stackBetweenFaces } from './induction/stack-between-faces.js';
import type { SafeHtml } from './safe-html.js';

/** The drawings that an induction may show, by the name its text calls them. */
const FIGURES = {
  'stack-clear': () => stackBetweenFaces({ packerMm: 0, plateMm: 16 }),
  'stack-too-thin': () => stackBetweenFaces({ packerMm: 0, plateMm: 9 }),
  'stack-on-packer': () => stackBetweenFaces({ packerMm: 4, plateMm: 9 }),
  'guard-zones': guardZones,
  'purge-stance': purgeStance,
  'oven-trays': ovenTrays,
  'granulator-cut': granulatorCut,
} as const;

export type InductionFigure = keyof typeof FIGURES;

export const INDUCTION_FIGURES = Object.keys(FIGURES) as readonly InductionFigure[];

export function isInductionFigure(name: string): name is InductionFigure {
  return Object.hasOwn(FIGURES, name);
}

/** Each is the same whenever it is drawn: drawn once, at its first showing. */
const drawn = new Map<InductionFigure, SafeHtml>();

export function inductionFigure(name: InductionFigure): SafeHtml {
  const picture = drawn.get(name) ?? FIGURES[name]();
  drawn.set(name, picture);
  return picture;
}
