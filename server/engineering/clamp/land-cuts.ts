import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { ScrewSeat } from '../fit/screw-seats.js';
import { type Moments, momentsOf } from '../geometry/area.js';
import { differenceOf } from '../geometry/boolean.js';
import { type Bounds, boundsGrown, boundsMeet, boundsOf, boundsOfPoints } from '../geometry/bounds.js';
import { ringContains } from '../geometry/contains.js';
import { croppedTo } from '../geometry/crop.js';
import type { Point, Region, Ring } from '../geometry/point.js';
import { momentsOfBoth, momentsWithout } from './joined-moments.js';

/** Corners of the polygon that stands for a round hole; it has the circle's own area. */
const HOLE_CORNERS = 32;
const SAME_AREA = Math.sqrt((2 * Math.PI) / (HOLE_CORNERS * Math.sin((2 * Math.PI) / HOLE_CORNERS)));

/** A round hole in the plate. */
interface RoundHole {
  readonly at: Point;
  readonly diameterMm: number;
}

/**
 * Everything taken out of the parting face that is not filled with melt: openings, vents, sinks and holes. A bolt
 * hole whose sink is given, not drawn, shows as wide as that sink.
 */
export function dryCuts(drawing: MeasuredDrawing, screws: readonly ScrewSeat[]): Region[] {
  const bolts = screws
    .filter(({ sinkDrawn }) => !sinkDrawn)
    .map(({ at, holeDiameterMm, sinkDiameterMm }) => ({
      at,
      diameterMm: Math.max(holeDiameterMm, sinkDiameterMm ?? 0),
    }));
  const openings = drawing.plate.openings.length > 0 ? [drawing.plate.openings] : [];
  const vents = drawing.ventInsidePlate ? [drawing.ventInsidePlate.region] : [];
  const sinks = drawing.sinks.map((sink) => sink.region);
  return [...openings, ...vents, ...sinks, ...[...bolts, ...drawing.dowels].map(holeRegion)];
}

export function holeRegion({ at, diameterMm }: RoundHole): Region {
  const radius = (diameterMm / 2) * SAME_AREA;
  const ring = Array.from({ length: HOLE_CORNERS }, (_, i) => {
    const angle = (2 * Math.PI * i) / HOLE_CORNERS;
    return { x: at.x + radius * Math.cos(angle), y: at.y + radius * Math.sin(angle) };
  });
  return [ring];
}

/**
 * The land's area and moments on the drawing: outline less what fills with melt less the dry cuts, each overlap
 * counted once. Cuts lie inside the outline. Only shapes that come near each other are clipped: a cut's overlap with
 * the whole melt at once took 3 ms of a check, this takes a tenth.
 */
export function landMoments(
  { plate, features, projected }: MeasuredDrawing,
  dry: readonly Region[],
): Moments {
  const { CAVITY, RUNNER, GATE, FEED } = features;
  const taken = [CAVITY, RUNNER, GATE, FEED].flatMap((feature) => (feature ? boxed(feature.region) : []));
  let cut = momentsOf(projected.region);
  for (const region of dry) {
    for (const part of separate(region)) {
      cut = momentsOfBoth(cut, momentsOf(without(part, taken)));
      taken.push(...boxed(part));
    }
  }
  return momentsWithout(momentsOf([plate.outline]), cut);
}

/** So far outside a cut nothing that is taken from it can matter, mm. */
const MARGIN_MM = 0.1;

interface BoxedRing {
  readonly ring: Ring;
  readonly bounds: Bounds;
}

function boxed(region: Region): BoxedRing[] {
  return region.map((ring) => ({ ring, bounds: boundsOfPoints(ring) }));
}

/** A region's outer rings one by one; all together when it has holes. */
function separate(region: Region): Region[] {
  const isPlain = region.every((ring) => momentsOf([ring]).areaMm2 > 0);
  return isPlain ? region.map((ring) => [ring]) : [region];
}

function without(region: Region, taken: readonly BoxedRing[]): Region {
  const bounds = boundsOf(region);
  const near = taken
    .filter((other) => boundsMeet(other.bounds, bounds) && reaches(other.ring, bounds))
    .map(({ ring }) => ring);
  return near.length === 0 ? region : differenceOf(region, croppedTo(near, boundsGrown(bounds, MARGIN_MM)));
}

/** Whether a ring comes into a box or lies round it: far cheaper to ask than to clip in vain. */
function reaches(ring: Ring, box: Bounds): boolean {
  let a = ring.at(-1);
  for (const b of ring) {
    if (
      a &&
      Math.min(a.x, b.x) <= box.maxX &&
      Math.max(a.x, b.x) >= box.minX &&
      Math.min(a.y, b.y) <= box.maxY &&
      Math.max(a.y, b.y) >= box.minY
    )
      return true;
    a = b;
  }
  return ringContains(ring, { x: box.minX, y: box.minY });
}
