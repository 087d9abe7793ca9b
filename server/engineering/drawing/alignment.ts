import { circleRing } from '../geometry/arc.js';
import { areaOf } from '../geometry/area.js';
import { differenceOf } from '../geometry/boolean.js';
import type { Point, Region } from '../geometry/point.js';
import type { MeasuredDrawing } from './measured-drawing.js';
import { plateRegion } from './plate-outline.js';

/** How one drawing was laid on another: turned about its own origin, then shifted. */
export interface Alignment {
  readonly by: 'as-drawn' | 'feed' | 'outline';
  readonly turnedDeg: 0 | 90 | 180 | 270;
  readonly shift: Point;
}

/** Another way of laying it is taken only where it leaves clearly less. Common practice, no source. */
const CLEARLY_LESS = 0.9;

/** Less than this is no difference, mm². */
const NOTHING_MM2 = 0.5;

/** The way of laying `before` on `after` that leaves the least metal different; as drawn where it makes no odds. */
export function alignedTo(before: MeasuredDrawing, after: MeasuredDrawing): Alignment {
  const [was, is] = [metalOf(before), metalOf(after)];
  let best: { alignment: Alignment; left: number } | undefined;
  for (const alignment of candidates(before, after)) {
    const moved = was.map((ring) => ring.map(placing(alignment)));
    const left = areaOf(differenceOf(moved, is)) + areaOf(differenceOf(is, moved));
    if (best === undefined || left < CLEARLY_LESS * best.left) best = { alignment, left };
    if (best.left < NOTHING_MM2) break;
  }
  return (best as { alignment: Alignment }).alignment;
}

/** Where a point of the earlier drawing lies in the later one. */
export function placing({ turnedDeg, shift }: Alignment): (point: Point) => Point {
  const [cos, sin] = QUARTERS[turnedDeg];
  return ({ x, y }) => ({ x: cos * x - sin * y + shift.x, y: sin * x + cos * y + shift.y });
}

const QUARTERS = { 0: [1, 0], 90: [0, 1], 180: [-1, 0], 270: [0, -1] } as const;

const TURNS = [0, 90, 180, 270] as const;

function candidates(before: MeasuredDrawing, after: MeasuredDrawing): readonly Alignment[] {
  const onto = (by: 'feed' | 'outline', from: Point, to: Point) =>
    TURNS.map((turnedDeg): Alignment => {
      const turned = placing({ by, turnedDeg, shift: { x: 0, y: 0 } })(from);
      return { by, turnedDeg, shift: { x: to.x - turned.x, y: to.y - turned.y } };
    });
  return [
    { by: 'as-drawn', turnedDeg: 0, shift: { x: 0, y: 0 } },
    ...onto('feed', before.feed.at, after.feed.at),
    ...onto('outline', middleOf(before), middleOf(after)),
  ];
}

function middleOf({ plate: { min, max } }: MeasuredDrawing): Point {
  return { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 };
}

/** The face as it is left: the plate less what is cut and drilled. */
function metalOf({ plate, projected, bolts, dowels }: MeasuredDrawing): Region {
  const holes = [...bolts, ...dowels].map(({ at, diameterMm }) => circleRing(at, diameterMm));
  return differenceOf(plateRegion(plate), projected.region, holes);
}
