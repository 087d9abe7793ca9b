import { areaOf } from '../geometry/area.js';
import { differenceOf, intersectionOf } from '../geometry/boolean.js';
import { boundsMeet, boundsOf } from '../geometry/bounds.js';
import type { Point, Region, Ring } from '../geometry/point.js';
import { polygonsOf } from '../geometry/polygons.js';
import { type Alignment, alignedTo, placing } from './alignment.js';
import { type HoleChange, holesChanged } from './holes-changed.js';
import { type CutArea, joinedByDepth, type Level } from './joined-by-depth.js';
import type { CutFeature, MeasuredDrawing } from './measured-drawing.js';
import { plateRegion } from './plate-outline.js';

/** What became of a place of the face. */
export type CutChange = 'added' | 'removed' | 'deeper' | 'shallower';

/** All places of one feature that changed from one depth to another. */
export interface ChangedCut {
  readonly change: CutChange;
  /** Of the later drawing; of the earlier one for what was removed. */
  readonly feature: CutFeature;
  /** 0 where nothing was cut. */
  readonly fromMm: number;
  /** 0 where nothing is cut any more. */
  readonly toMm: number;
  readonly region: Region;
  readonly areaMm2: number;
  readonly pieces: number;
}

export interface ChangedFeed {
  readonly movedMm: number;
  readonly from: MeasuredDrawing['feed'];
  readonly to: MeasuredDrawing['feed'];
}

/** A figure of the whole drawing, before and after. */
export interface ChangedFigure {
  readonly figure: 'widthMm' | 'heightMm' | 'cavities' | 'projectedMm2' | 'cavityMm3' | 'mouldedMm3';
  readonly from: number;
  readonly to: number;
}

/** What differs between two drawings of a plate; everything in mm, in the coordinates of the later one. */
export interface DrawingDifference {
  readonly alignment: Alignment;
  readonly cuts: readonly ChangedCut[];
  /** Metal that the outline, or an opening in it, gives or takes. */
  readonly outline: { readonly added: Region; readonly removed: Region };
  readonly bolts: readonly HoleChange[];
  readonly dowels: readonly HoleChange[];
  readonly water: { readonly added: Region; readonly removed: Region };
  readonly feed: ChangedFeed | null;
  /** Those that are not the same. */
  readonly figures: readonly ChangedFigure[];
}

/** Two chord errors of flattened curves: a strip this thin is one line read twice. */
const SLIVER_MM = 0.02;

/** Depths and places nearer than this are the same: half of the last figure that is written. */
const SAME_MM = 0.005;

/**
 * What differs between two drawings of a plate. The earlier one is laid on the later one first, for the origin is
 * free: as drawn, feed on feed, or outline on outline, turned by quarters, whichever leaves the least.
 * @throws TooIntricate
 */
export function differenceOfDrawings(before: MeasuredDrawing, after: MeasuredDrawing): DrawingDifference {
  const alignment = alignedTo(before, after);
  const place = placing(alignment);
  const moved = (region: Region): Region => region.map((ring) => ring.map(place));
  const feedAt = place(before.feed.at);
  return {
    alignment,
    cuts: changedCuts(before, after, moved),
    outline: bothWays(moved(plateRegion(before.plate)), plateRegion(after.plate)),
    bolts: holesChanged(placedHoles(before.bolts, place), after.bolts, SAME_MM),
    dowels: holesChanged(placedHoles(before.dowels, place), after.dowels, SAME_MM),
    water: bothWays(moved(waterOf(before)), waterOf(after)),
    feed: changedFeed({ ...before.feed, at: feedAt }, after.feed),
    figures: changedFigures(before, after),
  };
}

/** Whether nothing differs but, perhaps, where the drawing lies. */
export function isSameDrawing(difference: DrawingDifference): boolean {
  const { cuts, outline, bolts, dowels, water, feed } = difference;
  const areas = [outline.added, outline.removed, water.added, water.removed];
  const lists = [cuts, bolts, dowels, ...areas];
  return feed === null && lists.every((list) => list.length === 0);
}

function placedHoles<Hole extends { readonly at: Point }>(
  holes: readonly Hole[],
  place: (point: Point) => Point,
): readonly Hole[] {
  return holes.map((hole) => ({ ...hole, at: place(hole.at) }));
}

function waterOf({ water }: MeasuredDrawing): Region {
  return water.flatMap(({ region }) => region);
}

function bothWays(before: Region, after: Region) {
  return {
    added: withoutSlivers(differenceOf(after, before)),
    removed: withoutSlivers(differenceOf(before, after)),
  };
}

const FEATURES: readonly CutFeature[] = ['CAVITY', 'RUNNER', 'GATE', 'FEED', 'VENT', 'SINK'];

function levelsOf(drawing: MeasuredDrawing, feature: CutFeature): readonly Level[] {
  const measured = feature === 'VENT' ? drawing.ventInsidePlate : drawing.features[feature];
  return measured?.levels ?? [];
}

/** Every cut into the face by depth, the deepest winning where features overlap. */
function depthsOf(drawing: MeasuredDrawing): readonly Level[] {
  const areas: CutArea[] = FEATURES.flatMap((feature) => {
    const levels = levelsOf(drawing, feature);
    return levels.length === 0 ? [] : { region: levels.flatMap(({ region }) => region), levels };
  });
  return joinedByDepth(areas).flatMap(({ levels }) => levels);
}

function changedCuts(
  before: MeasuredDrawing,
  after: MeasuredDrawing,
  moved: (region: Region) => Region,
): readonly ChangedCut[] {
  const was = depthsOf(before).map(({ depthMm, region }) => ({ depthMm, region: moved(region) }));
  const is = depthsOf(after);
  const placed = (feature: CutFeature) =>
    levelsOf(before, feature).map(({ depthMm, region }) => ({ depthMm, region: moved(region) }));
  const namedBefore = (depthMm: number, region: Region) => featureAt(placed, depthMm, region);
  const namedAfter = (depthMm: number, region: Region) =>
    featureAt((feature) => levelsOf(after, feature), depthMm, region);
  const found = [
    ...over(was, is).map(({ fromMm, toMm, region }) => ({
      change: toMm > fromMm ? ('deeper' as const) : ('shallower' as const),
      feature: namedAfter(toMm, region),
      fromMm,
      toMm,
      region,
    })),
    ...lessAll(is, was).map(({ depthMm, region }) => ({
      change: 'added' as const,
      feature: namedAfter(depthMm, region),
      fromMm: 0,
      toMm: depthMm,
      region,
    })),
    ...lessAll(was, is).map(({ depthMm, region }) => ({
      change: 'removed' as const,
      feature: namedBefore(depthMm, region),
      fromMm: depthMm,
      toMm: 0,
      region,
    })),
  ];
  return found
    .map((cut) => ({ ...cut, areaMm2: areaOf(cut.region), pieces: polygonsOf(cut.region).length }))
    .toSorted((a, b) => CHANGES.indexOf(a.change) - CHANGES.indexOf(b.change) || b.areaMm2 - a.areaMm2);
}

const CHANGES: readonly CutChange[] = ['added', 'removed', 'deeper', 'shallower'];

/** Where both drawings cut, to another depth. */
function over(was: readonly Level[], is: readonly Level[]) {
  return was.flatMap((a) =>
    is.flatMap((b) => {
      if (Math.abs(a.depthMm - b.depthMm) <= SAME_MM) return [];
      if (!boundsMeet(boundsOf(a.region), boundsOf(b.region))) return [];
      const region = withoutSlivers(intersectionOf(a.region, b.region));
      return region.length === 0 ? [] : [{ fromMm: a.depthMm, toMm: b.depthMm, region }];
    }),
  );
}

/** Where one drawing cuts and the other does not. */
function lessAll(levels: readonly Level[], others: readonly Level[]): readonly Level[] {
  const all = others.map(({ region }) => region);
  return levels.flatMap(({ depthMm, region }) => {
    const left = withoutSlivers(differenceOf(region, ...all));
    return left.length === 0 ? [] : [{ depthMm, region: left }];
  });
}

/** The feature that cuts most of a region to a depth. */
function featureAt(
  levels: (feature: CutFeature) => readonly Level[],
  depthMm: number,
  region: Region,
): CutFeature {
  let most = 0;
  let named: CutFeature = 'CAVITY';
  for (const feature of FEATURES) {
    const level = levels(feature).find((one) => Math.abs(one.depthMm - depthMm) <= SAME_MM);
    if (level === undefined) continue;
    const areaMm2 = areaOf(intersectionOf(region, level.region));
    if (areaMm2 > most) {
      most = areaMm2;
      named = feature;
    }
  }
  return named;
}

/** A region without the parts that are as thin as the error of drawing them. */
function withoutSlivers(region: Region): Region {
  if (region.length === 0) return region;
  return polygonsOf(region)
    .filter((part) => 2 * areaOf(part) > SLIVER_MM * part.reduce((sum, ring) => sum + girthOf(ring), 0))
    .flat();
}

function girthOf(ring: Ring): number {
  return ring.reduce((sum, { x, y }, i) => {
    const before = ring.at(i - 1) as Point;
    return sum + Math.hypot(x - before.x, y - before.y);
  }, 0);
}

function changedFeed(from: MeasuredDrawing['feed'], to: MeasuredDrawing['feed']): ChangedFeed | null {
  const movedMm = Math.hypot(to.at.x - from.at.x, to.at.y - from.at.y);
  const isSame =
    movedMm <= SAME_MM &&
    Math.abs(to.diameterMm - from.diameterMm) <= SAME_MM &&
    Math.abs(to.depthMm - from.depthMm) <= SAME_MM;
  return isSame ? null : { movedMm, from, to };
}

function changedFigures(before: MeasuredDrawing, after: MeasuredDrawing): readonly ChangedFigure[] {
  const [was, is] = [figuresOf(before), figuresOf(after)];
  const names = Object.keys(is) as ChangedFigure['figure'][];
  return names.flatMap((figure) => {
    const [from, to] = [was[figure], is[figure]];
    // Areas and volumes are rounded to what curves are drawn to.
    const tolerance = Math.max(SAME_MM, 2e-4 * Math.abs(from));
    return Math.abs(to - from) <= tolerance ? [] : [{ figure, from, to }];
  });
}

function figuresOf(drawing: MeasuredDrawing): { readonly [figure in ChangedFigure['figure']]: number } {
  return {
    widthMm: drawing.plate.widthMm,
    heightMm: drawing.plate.heightMm,
    cavities: drawing.cavities.length,
    projectedMm2: drawing.projected.areaMm2,
    cavityMm3: drawing.features.CAVITY?.volumeMm3 ?? 0,
    mouldedMm3: drawing.moulded.volumeMm3,
  };
}
