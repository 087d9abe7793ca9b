import { boundsOfBoth, boundsOfPoints } from '../engineering/geometry/bounds.js';
import type { Point } from '../engineering/geometry/point.js';
import type { BolsterFacts } from '../engineering/press-facts.js';
import { horizontalDimension, verticalDimension } from './dimension.js';
import { type PlaceMark, placeMarks } from './place-marks.js';
import { faceBounds, faceFrame, letterHeightFor, PIXELS_PER_UNIT } from './plate-on-bolster.js';
import { regionPath } from './region-path.js';
import type { SafeHtml } from './safe-html.js';
import { tappedHoleDiameters } from './screw-shape.js';
import { box, circle, fixed, line, path, svg, text } from './svg.js';

export interface BolsterFaceInput {
  readonly bolster: BolsterFacts;
  /** Places that something is wrong with, mm from the sprue axis. */
  readonly wrong: readonly Point[];
  /** Places to mark with a number, mm from the sprue axis; none when left out. */
  readonly marks?: readonly PlaceMark[];
  /** What the picture shows, in words. */
  readonly label: string;
  /** Words of the picture itself. */
  readonly words: { readonly face: string; readonly length: (lengthMm: number) => string };
}

/** More than these would stand in each other's way. */
const NUMBERED_MAX = 80;

/**
 * A bolster's face to scale, one unit a millimetre, the sprue at the origin, seen on the moving half, each hole with its
 * number in the table.
 */
export function bolsterFace({ bolster, wrong, marks = [], label, words }: BolsterFaceInput): SafeHtml {
  const face = faceBounds(bolster);
  const outside = boundsOfPoints(
    [...bolster.holes.map(({ at }) => at), ...wrong].map(({ x, y }) => ({ x, y: -y })),
  );
  const all = bolster.holes.length + wrong.length === 0 ? face : boundsOfBoth(face, outside);
  const h = letterHeightFor(all);
  const openings = regionPath(bolster.faceOpenings, ({ x, y }) => ({ x, y: -y }));
  const numbered = bolster.holes.length <= NUMBERED_MAX;
  return svg(
    {
      frame: faceFrame(all),
      className: 'ps-picture ps-plan ps-bolster-plan',
      label,
      letterHeight: h,
      pixelsPerUnit: PIXELS_PER_UNIT,
    },
    box('ps-face', face.minX, face.minY, face.maxX, face.maxY) +
      path('ps-opening', openings) +
      text('ps-soft-text', face.minX, all.minY - 0.35 * h, words.face, 'start') +
      line('ps-centre-line', face.minX - 0.6 * h, 0, face.maxX + 0.6 * h, 0) +
      line('ps-centre-line', 0, face.minY - 0.6 * h, 0, face.maxY + 0.6 * h) +
      circle('ps-sprue', 0, 0, bolster.sprue.partingFaceDiameterMm / 2) +
      bolster.holes.map((hole, i) => tappedHole(hole, numbered ? i + 1 : null, h)).join('') +
      wrong.map(({ x, y }) => circle('ps-ring ps-tone-stop', x, -y, 1.1 * h)).join('') +
      placeMarks(marks, face, h) +
      horizontalDimension(
        face.minX,
        face.maxX,
        all.maxY + 2 * h,
        face.maxY,
        words.length(face.maxX - face.minX),
        { letterHeight: h },
      ) +
      verticalDimension(
        face.minY,
        face.maxY,
        all.minX - 1.6 * h,
        face.minX,
        words.length(face.maxY - face.minY),
        { letterHeight: h },
      ),
  );
}

/** Core whole, thread a three-quarter arc, and the hole's number beside it. */
function tappedHole({ at, thread }: BolsterFacts['holes'][number], number: number | null, h: number): string {
  const [x, y] = [at.x, -at.y];
  const { threadMm, coreMm } = tappedHoleDiameters(thread);
  const r = threadMm / 2;
  return (
    circle('ps-thin', x, y, coreMm / 2) +
    path(
      'ps-thin',
      `M${fixed(x)} ${fixed(y - r)}A${fixed(r)} ${fixed(r)} 0 1 1 ${fixed(x - r)} ${fixed(y)}`,
    ) +
    (number === null ? '' : text('ps-soft-text', x + r + 0.2 * h, y - r * 0.4, String(number), 'start'))
  );
}
