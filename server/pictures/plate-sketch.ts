import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import { boundsOfPoints } from '../engineering/geometry/bounds.js';
import type { Point } from '../engineering/geometry/point.js';
import { deepestMm, depthAreas, depthStep } from './depth-steps.js';
import { type PlaceMark, placeMarks } from './place-marks.js';
import { regionPath } from './region-path.js';
import type { SafeHtml } from './safe-html.js';
import { circle, type Frame, line, path, svg } from './svg.js';

/** A plate as it is drawn small: plain data, mm from the feed, x right, y down. */
export interface PlateSketch {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
  /** Path data of the plate with its openings. */
  readonly metal: string;
  /** Path data of the cuts, shallowest first, each with its tone. */
  readonly cuts: readonly { readonly step: number; readonly d: string }[];
  readonly bolts: readonly { readonly x: number; readonly y: number; readonly r: number }[];
}

/** A fifth of a pixel in a list, and not to be seen at the size of a page. */
const TOLERANCE_MM = 0.15;

/** What is needed to draw a plate small, as it is drawn, the feed at the origin. */
export function sketchOf(drawing: MeasuredDrawing): PlateSketch {
  const { at } = drawing.feed;
  const place = ({ x, y }: Point) => ({ x: x - at.x, y: at.y - y });
  const deepest = deepestMm(drawing);
  return {
    ...boundsOfPoints(drawing.plate.outline.map(place)),
    metal: regionPath([drawing.plate.outline, ...drawing.plate.openings], place, TOLERANCE_MM),
    cuts: depthAreas(drawing).map(({ depthMm, region }) => ({
      step: depthStep(depthMm, deepest),
      d: regionPath(region, place, TOLERANCE_MM),
    })),
    bolts: drawing.bolts.map((bolt) => ({ ...place(bolt.at), r: bolt.diameterMm / 2 })),
  };
}

export interface SketchInput {
  readonly sketch: PlateSketch;
  /** What it shows, in words; null where they stand beside it. */
  readonly label: string | null;
}

/** The plate alone, without figures, as wide as its place. */
export function plateSketch({ sketch, label }: SketchInput): SafeHtml {
  // Lines are measured by letters, and in a list they have to stay lines.
  const h = 2 * lettersOf(sketch);
  return svg(
    { frame: frameRound(sketch, 0.15 * h), className: 'ps-picture ps-sketch', label, letterHeight: h },
    sketchMarkup(sketch),
  );
}

/** The plate with the axes through its feed, from which places are counted, and some of them numbered. */
export function plateWithMarks({
  sketch,
  label,
  marks,
}: SketchInput & { readonly marks: readonly PlaceMark[] }): SafeHtml {
  const h = lettersOf(sketch);
  const { minX, minY, maxX, maxY } = sketch;
  return svg(
    {
      frame: frameRound(sketch, 1.5 * h),
      className: 'ps-picture ps-plan ps-sketch-plan',
      label,
      letterHeight: h,
    },
    sketchMarkup(sketch) +
      line('ps-centre-line', minX - h, 0, maxX + h, 0) +
      line('ps-centre-line', 0, minY - h, 0, maxY + h) +
      placeMarks(marks, sketch, h),
  );
}

/** Letters as on a bolster, where a face is some thirty of them wide. */
function lettersOf({ minX, minY, maxX, maxY }: PlateSketch): number {
  return Math.max(maxX - minX, maxY - minY) / 28;
}

function frameRound({ minX, minY, maxX, maxY }: PlateSketch, rim: number): Frame {
  return { x: minX - rim, y: minY - rim, width: maxX - minX + 2 * rim, height: maxY - minY + 2 * rim };
}

function sketchMarkup({ metal, cuts, bolts }: PlateSketch): string {
  return (
    path('ps-plate', metal) +
    cuts.map(({ step, d }) => path(`ps-cut ps-d${step}`, d)).join('') +
    bolts.map(({ x, y, r }) => circle('ps-bolt', x, y, r)).join('')
  );
}
