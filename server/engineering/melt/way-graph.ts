import type { DrawnWay, MeasuredDrawing } from '../drawing/measured-drawing.js';
import { circleRing } from '../geometry/arc.js';
import { type Bounds, boundsGrown, boundsMeet, boundsOf, boundsOfPoints } from '../geometry/bounds.js';
import { eachMeetingPair } from '../geometry/box-pairs.js';
import { regionContains } from '../geometry/contains.js';
import { boundaryDistance, distanceBetween, distanceToPoint } from '../geometry/distance.js';
import type { Point, Region } from '../geometry/point.js';
import {
  distanceMm,
  nearestOnPath,
  type OnPath,
  pathCrossings,
  pathLengthMm,
  rimCrossings,
} from '../geometry/polyline.js';

/** Cuts that come as near as this run into one another on the machine, mm. A choice of ours. */
const MEETS_MM = 0.01;

/** Something melt or air runs through: a channel along a line, or an area it spreads in. */
export type Place =
  | {
      readonly kind: 'channel';
      readonly feature: 'RUNNER' | 'GATE' | 'VENT';
      readonly way: DrawnWay & { readonly kind: 'channel' };
      readonly bounds: Bounds;
    }
  | {
      readonly kind: 'area';
      /** AIR is all that lies outside the plate. */
      readonly feature: 'RUNNER' | 'GATE' | 'CAVITY' | 'FEED' | 'VENT' | 'AIR';
      /** Index into the drawing's cavities; null for what is none. */
      readonly cavity: number | null;
      readonly depthMm: number;
      readonly region: Region;
      readonly bounds: Bounds;
    };

/** A spot on a place where another joins it. */
export interface Stop {
  readonly place: number;
  readonly at: Point;
  /** How far along a channel, mm; 0 in an area. */
  readonly alongMm: number;
}

/** From one stop to another: through a place, or across where two places meet (`place` null). */
export interface Edge {
  readonly to: number;
  readonly lengthMm: number;
  readonly place: number | null;
}

/** Every place melt can run through, where they meet, and how far it is from each meeting to the next. */
export interface WayGraph {
  readonly places: readonly Place[];
  readonly stops: readonly Stop[];
  readonly edges: readonly (readonly Edge[])[];
}

/** Lays the graph of feed, runners, gates and cavities as they are drawn; vents carry no melt. */
export function wayGraph(drawing: Pick<MeasuredDrawing, 'feed' | 'ways' | 'cavities'>): WayGraph {
  return layGraph(placesOf(drawing), [{ place: 0, at: drawing.feed.at, alongMm: 0 }]);
}

/**
 * Lays the graph of places: where they run into one another, and how far it is through each.
 *
 * @param starts stops of which the first is where every way begins
 * @param through whether anything passes through a place from one side to the other
 */
export function layGraph(
  places: readonly Place[],
  starts: readonly Stop[],
  through: (place: Place) => boolean = () => true,
): WayGraph {
  const stops = [...starts];
  const joints: { readonly one: number; readonly other: number; readonly lengthMm: number }[] = [];
  const stop = (place: number, { at, alongMm }: OnPath) => stops.push({ place, at, alongMm }) - 1;
  eachMeetingPair(
    places.map(({ bounds }) => bounds),
    (a, b) => {
      const [i, j] = [Math.min(a, b), Math.max(a, b)];
      for (const { one, other } of meetingsOf(places[i] as Place, places[j] as Place)) {
        joints.push({ one: stop(i, one), other: stop(j, other), lengthMm: distanceMm(one.at, other.at) });
      }
    },
  );
  const edges: Edge[][] = stops.map(() => []);
  const link = (a: number, b: number, lengthMm: number, place: number | null) => {
    edges[a]?.push({ to: b, lengthMm, place });
    edges[b]?.push({ to: a, lengthMm, place });
  };
  for (const { one, other, lengthMm } of joints) link(one, other, lengthMm, null);
  const within = places.map((): number[] => []);
  for (const [index, { place }] of stops.entries()) within[place]?.push(index);
  for (const [place, own] of within.entries()) {
    const it = places[place] as Place;
    if (through(it)) linkWithin(it, stops, own, (a, b, mm) => link(a, b, mm, place));
  }
  return { places, stops, edges };
}

function linkWithin(place: Place, stops: readonly Stop[], own: readonly number[], link: Link): void {
  if (place.kind === 'channel') linkAlong(place.way.path, stops, own, link);
  else linkAcross(stops, own, link);
}

interface Meeting {
  readonly one: OnPath;
  readonly other: OnPath;
}

function placesOf({
  feed,
  ways,
  cavities,
}: Pick<MeasuredDrawing, 'feed' | 'ways' | 'cavities'>): readonly Place[] {
  const pocket = [circleRing(feed.at, feed.diameterMm)];
  return [
    areaPlace({ feature: 'FEED', cavity: null, depthMm: feed.depthMm, region: pocket }),
    ...ways.flatMap((way) => (way.feature === 'VENT' ? [] : [wayPlace(way)])),
    ...cavityPlaces(cavities),
  ];
}

/** A drawn way as a place. */
export function wayPlace(way: DrawnWay): Place {
  const { feature } = way;
  if (way.kind === 'pocket')
    return areaPlace({ feature, cavity: null, depthMm: way.depthMm, region: [way.ring] });
  const bounds = boundsGrown(boundsOfPoints(way.path), way.widthMm / 2 + MEETS_MM);
  return { kind: 'channel', feature, way, bounds };
}

export function cavityPlaces(cavities: MeasuredDrawing['cavities']): readonly Place[] {
  return cavities.map(({ region, maxDepthMm }, cavity) =>
    areaPlace({ feature: 'CAVITY', cavity, depthMm: maxDepthMm, region }),
  );
}

/** An area as a place, with the box round it. */
export function areaPlace(place: Omit<Area, 'kind' | 'bounds'>): Place {
  return { kind: 'area', ...place, bounds: boundsGrown(boundsOf(place.region), MEETS_MM) };
}

/** Where two places run into one another; none where metal stands between them. */
function meetingsOf(one: Place, other: Place): readonly Meeting[] {
  if (!boundsMeet(one.bounds, other.bounds)) return [];
  if (one.kind === 'channel') {
    return other.kind === 'channel' ? betweenChannels(one, other) : channelAndArea(one, other);
  }
  if (other.kind === 'channel') return channelAndArea(other, one).map(turned);
  return betweenAreas(one, other);
}

function turned({ one, other }: Meeting): Meeting {
  return { one: other, other: one };
}

type Channel = Place & { readonly kind: 'channel' };
type Area = Place & { readonly kind: 'area' };

/** Channels meet where their lines cross, or where the end of one lies within the other's width. */
function betweenChannels(one: Channel, other: Channel): readonly Meeting[] {
  const reachMm = (one.way.widthMm + other.way.widthMm) / 2 + MEETS_MM;
  const crossings = pathCrossings(one.way.path, other.way.path).map(({ at, alongOneMm, alongOtherMm }) => ({
    one: { at, alongMm: alongOneMm },
    other: { at, alongMm: alongOtherMm },
  }));
  const ends = [...endsOn(one, other, reachMm), ...endsOn(other, one, reachMm).map(turned)];
  if (crossings.length + ends.length > 0) return [...crossings, ...ends];
  const sides = [...verticesOn(one, other), ...verticesOn(other, one).map(turned)];
  const nearest = sides.reduce<Meeting | null>(
    (best, next) => (best && gap(best) <= gap(next) ? best : next),
    null,
  );
  return nearest && gap(nearest) <= reachMm ? [nearest] : [];
}

function gap({ one, other }: Meeting): number {
  return distanceMm(one.at, other.at);
}

function endsOn(from: Channel, to: Channel, reachMm: number): readonly Meeting[] {
  const { path } = from.way;
  const all = verticesOn(from, to);
  return [all[0], path.length > 1 ? all.at(-1) : undefined].filter(
    (meeting): meeting is Meeting => meeting !== undefined && gap(meeting) <= reachMm,
  );
}

function verticesOn(from: Channel, to: Channel): readonly Meeting[] {
  let alongMm = 0;
  return from.way.path.map((at, i) => {
    if (i > 0) alongMm += distanceMm(from.way.path[i - 1] as Point, at);
    return { one: { at, alongMm }, other: nearestOnPath(to.way.path, at) };
  });
}

/** A channel meets an area where its line crosses the rim or ends inside, or else where its side touches. */
function channelAndArea(channel: Channel, area: Area): readonly Meeting[] {
  const { path, widthMm } = channel.way;
  const here = (spot: OnPath): Meeting => ({ one: spot, other: { at: spot.at, alongMm: 0 } });
  const crossings = rimCrossings(path, area.region);
  if (crossings.length > 0) return crossings.map(here);
  const first = path[0] as Point;
  if (regionContains(area.region, first)) return [here({ at: first, alongMm: 0 })];
  const apart = boundaryDistance(edgesOf(path), area.region);
  if (apart === null) return [];
  const spot = nearestOnPath(path, apart.to);
  return spot.distanceMm <= widthMm / 2 + MEETS_MM
    ? [{ one: spot, other: { at: apart.to, alongMm: 0 } }]
    : [];
}

function edgesOf(path: readonly Point[]): Region {
  return path.length === 1 ? [path] : path.slice(1).map((to, i) => [path[i] as Point, to]);
}

function betweenAreas(one: Area, other: Area): readonly Meeting[] {
  const apart =
    one.feature === 'FEED'
      ? distanceToPoint(other.region, centreOf(one))
      : distanceBetween(one.region, other.region);
  if (apart === null) return [];
  if (one.feature === 'FEED') {
    // From the middle of the feed to the nearest spot of what it runs into.
    const radiusMm = (one.bounds.maxX - one.bounds.minX) / 2;
    if (apart.distanceMm > radiusMm) return [];
    return [{ one: { at: apart.from, alongMm: 0 }, other: { at: apart.from, alongMm: 0 } }];
  }
  if (apart.distanceMm > MEETS_MM) return [];
  return [{ one: { at: apart.from, alongMm: 0 }, other: { at: apart.to, alongMm: 0 } }];
}

function centreOf({ bounds: { minX, minY, maxX, maxY } }: Area): Point {
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
}

type Link = (a: number, b: number, lengthMm: number) => void;

/** Along a channel melt passes one stop after the other, round a closed one either way. */
function linkAlong(path: readonly Point[], stops: readonly Stop[], own: readonly number[], link: Link): void {
  const inOrder = own.toSorted((a, b) => (stops[a] as Stop).alongMm - (stops[b] as Stop).alongMm);
  for (let i = 1; i < inOrder.length; i++) {
    const [a, b] = [inOrder[i - 1] as number, inOrder[i] as number];
    link(a, b, (stops[b] as Stop).alongMm - (stops[a] as Stop).alongMm);
  }
  const [first, last] = [inOrder[0], inOrder.at(-1)];
  if (!isClosed(path) || first === undefined || last === undefined || first === last) return;
  link(last, first, pathLengthMm(path) - (stops[last] as Stop).alongMm + (stops[first] as Stop).alongMm);
}

function isClosed(path: readonly Point[]): boolean {
  return path.length > 2 && distanceMm(path[0] as Point, path.at(-1) as Point) === 0;
}

/** In an area it goes straight from any stop to any other. */
function linkAcross(stops: readonly Stop[], own: readonly number[], link: Link): void {
  for (const [k, a] of own.entries()) {
    for (const b of own.slice(k + 1)) link(a, b, distanceMm((stops[a] as Stop).at, (stops[b] as Stop).at));
  }
}
