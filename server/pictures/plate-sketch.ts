import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import { boundsOfPoints } from '../engineering/geometry/bounds.js';
import type { Point } from '../engineering/geometry/point.js';
import { deepestMm, depthAreas, depthStep } from './depth-steps.js';
import { regionPath } from './region-path.js';
import type { SafeHtml } from './safe-html.js';
import { box, circle, line, path, svg } from './svg.js';

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

/** Something at a place of the plate, mm from the feed, x right, y up. */
export interface SketchMark {
  readonly words: string;
  readonly at: Point;
}

export interface SketchInput {
  readonly sketch: PlateSketch;
  /** What it shows, in words; null where they stand beside it. */
  readonly label: string | null;
}

/** The plate alone, without figures, as wide as its place. */
export function plateSketch({ sketch, label }: SketchInput): SafeHtml {
  const { minX, minY, maxX, maxY } = sketch;
  const letterHeight = Math.max(maxX - minX, maxY - minY) / 16;
  const rim = 0.25 * letterHeight;
  return svg(
    {
      frame: { x: minX - rim, y: minY - rim, width: maxX - minX + 2 * rim, height: maxY - minY + 2 * rim },
      className: 'ps-picture ps-sketch',
      label,
      letterHeight,
    },
    sketchMarkup(sketch),
  );
}

/** Metal, cuts and holes, for a picture that has the feed at its origin. */
export function sketchMarkup({ metal, cuts, bolts }: PlateSketch): string {
  return (
    path('ps-plate', metal) +
    cuts.map(({ step, d }) => path(`ps-cut ps-d${step}`, d)).join('') +
    bolts.map(({ x, y, r }) => circle('ps-bolt', x, y, r)).join('')
  );
}

/** The ground of a picture in which a place is picked: its axes through the feed, and a rim to pick in. */
export function sketchAxes({ minX, minY, maxX, maxY }: PlateSketch, h: number): string {
  return (
    box('ps-sketch__ground', minX - h, minY - h, maxX + h, maxY + h) +
    line('ps-centre-line', minX - 0.6 * h, 0, maxX + 0.6 * h, 0) +
    line('ps-centre-line', 0, minY - 0.6 * h, 0, maxY + 0.6 * h)
  );
}
