import type { PlateFacts } from '../press-facts.js';

/** The usual tapered cutter, each side. Standard draft of 1 deg: minghaomould.com, Draft angle (reference 8/7). */
const USUAL_DRAFT_DEG = 1;

/** Draft of the cavity's walls, each side, and how it is known. */
export interface Draft {
  readonly deg: number;
  readonly from: 'given' | 'cutter' | 'usual';
}

/** As it is given; else that of the cutter which finishes the cavity; else the usual tapered cutter's. */
export function draftOf({ draftDeg, cutters }: Pick<PlateFacts, 'draftDeg' | 'cutters'>): Draft {
  if (draftDeg !== null) return { deg: draftDeg, from: 'given' };
  const cutter =
    cutters.find(({ feature }) => feature === 'cavity') ?? cutters.find(({ feature }) => feature === null);
  if (cutter === undefined || cutter.form === null) return { deg: USUAL_DRAFT_DEG, from: 'usual' };
  return { deg: cutter.form === 'tapered' ? (cutter.taperDeg ?? USUAL_DRAFT_DEG) : 0, from: 'cutter' };
}
