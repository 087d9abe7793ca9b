import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, Finding } from '../finding.js';
import type { Point } from '../geometry/point.js';
import type { BolsterFacts, PressFacts } from '../press-facts.js';
import { FLUSH_MM, type Overhang, overhangOver, SIDES, worstSide } from './outline-on-face.js';
import { AS_DRAWN, landing } from './placing.js';
import { upToTenth } from './plate-with.js';
import type { Placement, Registration } from './registration-result.js';

/**
 * Does the placed plate lie on the bolster's face and pass between the tie bars? The figure is how far the nearest
 * edge lies inside, mm; negative where it stands over. A plate whose mirror image alone fits is drawn from the back:
 * that has no figure.
 */
export function checkFace({
  drawing,
  registration,
  bolster,
  press,
}: {
  readonly drawing: Pick<MeasuredDrawing, 'plate' | 'feed'>;
  readonly registration: Registration;
  readonly bolster: BolsterFacts;
  readonly press: PressFacts;
}): Finding {
  const placement = registration.placement ?? AS_DRAWN;
  const { tieBarsWidthMm: widthMm, tieBarsHeightMm: heightMm } = press.clamp;
  const overFace = overhangOver(drawing, placement, bolster.face);
  const overBars = overhangOver(drawing, placement, { widthMm, heightMm, centre: { x: 0, y: 0 } });
  const isOverFace = overFace[worstSide(overFace)] > FLUSH_MM;
  const isOverBars = overBars[worstSide(overBars)] > FLUSH_MM;
  const fromBack = registration.mirroredFits && !registration.fits;
  const over = isOverBars ? overBars : overFace;
  const side = worstSide(over);
  const situation = fromBack
    ? 'seen-from-back'
    : isOverBars
      ? 'hits-tie-bars'
      : isOverFace
        ? 'overhangs'
        : 'inside';
  return {
    check: 'face',
    verdict: situation === 'inside' ? 'clear' : 'stop',
    situation,
    figure: fromBack ? null : -over[side] + 0,
    limit: fromBack ? null : 0,
    allowed: fromBack ? null : 'at-least',
    unit: 'mm',
    margin: fromBack ? null : -over[side] + 0,
    figures: {
      side,
      ...sidesFigures(over),
      plateWidthMm: drawing.plate.widthMm,
      plateHeightMm: drawing.plate.heightMm,
      faceWidthMm: bolster.face.widthMm,
      faceHeightMm: bolster.face.heightMm,
      tieBarsWidthMm: widthMm,
      tieBarsHeightMm: heightMm,
      rotationDeg: placement.rotationDeg,
      placed: registration.placement === null ? 'by-feed' : registration.holesFit ? 'by-holes' : 'most-holes',
    },
    places: isOverFace || isOverBars ? [farthestPoint(drawing, placement, side)] : [],
    cures: fromBack
      ? [MIRROR]
      : situation === 'inside'
        ? []
        : [trim(drawing, placement, isOverBars ? larger(overBars, overFace) : overFace)],
    source: isOverBars ? "the machine's own limit" : 'geometry of plate and bolster',
    basis: isOverBars ? 'machine' : 'computed',
  };
}

/** Tells a drawing made looking at the back of the plate. */
export const MIRROR: Cure = { code: 'mirror-drawing', amount: 180, unit: 'deg', figures: {} };

function sidesFigures(over: Overhang): { readonly [name: string]: number } {
  return { overRightMm: over.right, overTopMm: over.top, overLeftMm: over.left, overBottomMm: over.bottom };
}

function larger(one: Overhang, other: Overhang): Overhang {
  return {
    right: Math.max(one.right, other.right),
    top: Math.max(one.top, other.top),
    left: Math.max(one.left, other.left),
    bottom: Math.max(one.bottom, other.bottom),
  };
}

/** Take off what stands over, side by side as it lies on the face. */
function trim(drawing: Pick<MeasuredDrawing, 'plate' | 'feed'>, placement: Placement, over: Overhang): Cure {
  const side = worstSide(over);
  const off = SIDES.map((each) => Math.max(0, over[each] > FLUSH_MM ? upToTenth(over[each]) : 0));
  return {
    code: 'trim-plate',
    amount: upToTenth(over[side]),
    unit: 'mm',
    figures: {
      rightMm: off[0] ?? 0,
      topMm: off[1] ?? 0,
      leftMm: off[2] ?? 0,
      bottomMm: off[3] ?? 0,
      rotationDeg: placement.rotationDeg,
    },
    at: farthestPoint(drawing, placement, side),
  };
}

/** The point of the outline, in the drawing, that stands over a side most. */
function farthestPoint(
  { plate, feed }: Pick<MeasuredDrawing, 'plate' | 'feed'>,
  placement: Placement,
  side: keyof Overhang,
): Point {
  const reach = (point: Point) => {
    const at = landing(point, feed.at, placement);
    return { right: at.x, top: at.y, left: -at.x, bottom: -at.y }[side];
  };
  return plate.outline.reduce((far, point) => (reach(point) > reach(far) + 1e-6 ? point : far));
}
