import type { ChangedCut, CutChange, DrawingDifference } from '../engineering/drawing/difference.js';
import type { HoleChange } from '../engineering/drawing/holes-changed.js';
import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import { type Bounds, boundsOf, boundsOfBoth, boundsOfPoints } from '../engineering/geometry/bounds.js';
import type { Point, Region } from '../engineering/geometry/point.js';
import { interiorPointOf, polygonsOf } from '../engineering/geometry/polygons.js';
import { balloon } from './balloon.js';
import { depthAreas } from './depth-steps.js';
import { arrow } from './dimension.js';
import { hatch } from './hatch.js';
import { letterHeightFor, PIXELS_PER_UNIT } from './plate-on-bolster.js';
import { regionPath } from './region-path.js';
import { escapeText, type SafeHtml } from './safe-html.js';
import { box, circle, element, line, path, svg } from './svg.js';

export interface PlateDifferenceInput {
  readonly after: MeasuredDrawing;
  readonly difference: DrawingDifference;
  /** Begins the ids of this picture's clips: no other on the page has it. */
  readonly name: string;
  /** What it shows, in words. */
  readonly label: string;
}

/** Rows of balloons above the plate and room for them, in letters. */
const MARGIN_LETTERS = 3;

/**
 * The later drawing as it lies, y up, with what the earlier one had differently: what is cut now and was not, or not
 * as deep, is hatched, the deeper closer; what is no longer cut, or less deep, is dashed. Each change has the number
 * of its row in the table beside it, in the order of `numberedChanges`.
 */
export function plateDifference({ after, difference, name, label }: PlateDifferenceInput): SafeHtml {
  const all = boundsAround(after, difference);
  const h = letterHeightFor(all);
  const margin = MARGIN_LETTERS * h;
  const frame = {
    x: all.minX - margin,
    y: all.minY - margin,
    width: all.maxX - all.minX + 2 * margin,
    height: all.maxY - all.minY + 2 * margin,
  };
  return svg(
    { frame, className: 'ps-picture ps-plan', label, letterHeight: h, pixelsPerUnit: PIXELS_PER_UNIT },
    plate(after) +
      changedCuts(difference.cuts, name, h) +
      outline(difference.outline) +
      bores(difference.water) +
      holes(after, [...difference.bolts, ...difference.dowels], h) +
      feed(difference, h) +
      balloons(numberedChanges(difference), all, h),
  );
}

/** A change that has a place, in the order in which the table lists them. */
function numberedChanges(difference: DrawingDifference): readonly Point[] {
  const { cuts, outline: metal, bolts, dowels, water, feed: changed } = difference;
  const places = (region: Region) => (region.length === 0 ? [] : [largestPart(region)]);
  return [
    ...cuts.map(({ region }) => largestPart(region)),
    ...[metal.added, metal.removed, water.added, water.removed].flatMap(places),
    ...[...bolts, ...dowels].flatMap(({ from, to }) => (to ?? from)?.at ?? []),
    ...(changed === null ? [] : [changed.to.at]),
  ];
}

function largestPart(region: Region): Point {
  const size = (part: Region) => {
    const { minX, minY, maxX, maxY } = boundsOf(part);
    return (maxX - minX) * (maxY - minY);
  };
  const [largest = region] = polygonsOf(region).toSorted((a, b) => size(b) - size(a));
  return interiorPointOf(largest);
}

const down = ({ x, y }: Point): Point => ({ x, y: -y });

function boundsAround(after: MeasuredDrawing, { outline: metal }: DrawingDifference): Bounds {
  const points = [after.plate.outline, ...metal.removed, ...metal.added].map((ring) => ring.map(down));
  return points.map(boundsOfPoints).reduce(boundsOfBoth);
}

function plate(after: MeasuredDrawing): string {
  const metal = regionPath([after.plate.outline, ...after.plate.openings], down);
  const cuts = depthAreas(after).map(({ region }) => path('ps-cut ps-unchanged', regionPath(region, down)));
  return path('ps-plate', metal) + cuts.join('');
}

/** Distance of the hatching's lines, in letters. */
const HATCH_GAP: { readonly [change in CutChange]: number | null } = {
  added: 0.55,
  deeper: 0.3,
  removed: null,
  shallower: null,
};

function changedCuts(cuts: readonly ChangedCut[], name: string, h: number): string {
  return cuts
    .map(({ change, region }, index) => {
      const shape = regionPath(region, down);
      const gap = HATCH_GAP[change];
      const edge = path(`ps-change ps-change--${change}`, shape);
      if (gap === null) return edge;
      const id = `${name}-${index}`;
      const { minX, minY, maxX, maxY } = boundsOfPoints(region.flat().map(down));
      const clip = element('clipPath', { id }, element('path', { d: shape, 'clip-rule': 'evenodd' }));
      const lines = element('path', {
        class: 'ps-change-hatch',
        d: hatch(minX, minY, maxX, maxY, gap * h),
        'clip-path': `url(#${escapeText(id)})`,
      });
      return edge + clip + lines;
    })
    .join('');
}

function outline({ added, removed }: DrawingDifference['outline']): string {
  return (
    path('ps-change ps-change--metal', regionPath(added, down)) +
    path('ps-change ps-change--removed', regionPath(removed, down))
  );
}

function bores({ added, removed }: DrawingDifference['water']): string {
  return (
    path('ps-change ps-change--bore', regionPath(added, down)) +
    path('ps-change ps-change--removed', regionPath(removed, down))
  );
}

/** Holes as they are; where one moved, where it was, dashed, and an arrow from there. */
function holes({ bolts, dowels }: MeasuredDrawing, changes: readonly HoleChange[], h: number): string {
  const now = [...bolts, ...dowels].map(({ at, diameterMm }) =>
    circle('ps-bolt', at.x, -at.y, diameterMm / 2),
  );
  const was = changes.map(({ from, to, movedMm }) => {
    const ring =
      from === null ? '' : circle('ps-change ps-change--removed', from.at.x, -from.at.y, from.diameterMm / 2);
    const changed =
      to === null ? '' : circle('ps-change ps-change--hole', to.at.x, -to.at.y, to.diameterMm / 2);
    return ring + changed + (from !== null && to !== null && movedMm > 0 ? way(from.at, to.at, h) : '');
  });
  return now.join('') + was.join('');
}

function feed({ feed: changed }: DrawingDifference, h: number): string {
  if (changed === null) return '';
  const { from, to, movedMm } = changed;
  return (
    circle('ps-change ps-change--removed', from.at.x, -from.at.y, from.diameterMm / 2) +
    circle('ps-change ps-change--hole', to.at.x, -to.at.y, to.diameterMm / 2) +
    (movedMm > 0 ? way(from.at, to.at, h) : '')
  );
}

function way(from: Point, to: Point, h: number): string {
  const [a, b] = [down(from), down(to)];
  const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  return (
    line('ps-dim', a.x, a.y, b.x, b.y) +
    path('ps-arrow', arrow(b.x, b.y, (b.x - a.x) / length, (b.y - a.y) / length, h))
  );
}

/** Numbers stand above and below the plate, each over what it points at, as near as its neighbours leave room. */
function balloons(places: readonly Point[], all: Bounds, h: number): string {
  const gap = 2.4 * h;
  const middle = (all.minY + all.maxY) / 2;
  const rows = [
    { y: all.minY - 1.6 * h, of: (to: Point) => to.y <= middle },
    { y: all.maxY + 1.6 * h, of: (to: Point) => to.y > middle },
  ];
  const numbered = places.map((place, index) => ({ to: down(place), words: String(index + 1) }));
  return rows
    .flatMap(({ y, of }) => {
      const row = numbered.filter(({ to }) => of(to)).toSorted((a, b) => a.to.x - b.to.x);
      let last = Number.NEGATIVE_INFINITY;
      return row.map(({ to, words }) => {
        last = Math.max(to.x, last + gap);
        return balloon({ words, tone: 'ink' }, last, y, to.x, to.y, h);
      });
    })
    .join('');
}

/** A swatch of each kind of change, for the key. */
export function changeSwatch(change: CutChange): SafeHtml {
  const gap = HATCH_GAP[change];
  return svg(
    { frame: { x: 0, y: 0, width: 28, height: 16 }, className: 'ps-key__swatch', label: null },
    box(`ps-change ps-change--${change} ps-change--swatch`, 1, 1, 27, 15) +
      (gap === null ? '' : path('ps-change-hatch ps-change--swatch', hatch(1, 1, 27, 15, gap * 10))),
  );
}
