import type { CutterForm, CutterGiven, MilledFeature, PlateFacts } from '../press-facts.js';

/** How a cut's walls are made, and why so. */
export interface FormOfCut {
  readonly form: CutterForm;
  /** Of each wall against the axis; 0 with a flat or ball cutter. */
  readonly taperDeg: number;
  readonly why: 'given' | 'draft-given' | 'draft-none' | 'must-release' | 'shallow' | 'no-room-for-taper';
}

/** Of the tapered cutters that moulds are usually cut with, each side. Common practice, no source. */
const USUAL_TAPER_DEG = 1;

/** A cut shallower than this lets go of the part without draft, mm. Common practice, no source. */
const SHALLOW_MM = 1;

/** Cuts that hold plastic by their walls. */
const HOLDS: ReadonlySet<MilledFeature> = new Set(['cavity', 'runner']);

/** What is given for a kind of cut: a line of its own, or the one for all that have none. */
export function cutterGiven(
  { cutters }: Pick<PlateFacts, 'cutters'>,
  feature: MilledFeature,
): CutterGiven | null {
  const own = cutters.find((cutter) => cutter.feature === feature);
  return own ?? cutters.find((cutter) => cutter.feature === null) ?? null;
}

/**
 * The cutter's form for a cut: as given; else tapered by the draft that is given; else, where a part or a runner is
 * held by its walls, by the usual taper; else flat.
 */
export function formOfCut(
  plate: Pick<PlateFacts, 'cutters' | 'draftDeg'>,
  feature: MilledFeature,
  depthMm: number,
): FormOfCut {
  const given = cutterGiven(plate, feature);
  const holds = HOLDS.has(feature);
  if (given?.form != null) {
    const usual = holds ? (plate.draftDeg ?? USUAL_TAPER_DEG) : USUAL_TAPER_DEG;
    const taperDeg = given.form === 'tapered' ? (given.taperDeg ?? (usual || USUAL_TAPER_DEG)) : 0;
    return { form: given.form, taperDeg, why: 'given' };
  }
  if (!holds) return { form: 'flat', taperDeg: 0, why: 'shallow' };
  if (plate.draftDeg === 0) return { form: 'flat', taperDeg: 0, why: 'draft-none' };
  if (plate.draftDeg !== null) return { form: 'tapered', taperDeg: plate.draftDeg, why: 'draft-given' };
  if (depthMm < SHALLOW_MM) return { form: 'flat', taperDeg: 0, why: 'shallow' };
  return { form: 'tapered', taperDeg: USUAL_TAPER_DEG, why: 'must-release' };
}

/** How much narrower a cut is at its floor than at the face, mm. */
export function narrowerAtFloorMm(depthMm: number, taperDeg: number): number {
  return 2 * depthMm * Math.tan((taperDeg * Math.PI) / 180);
}
