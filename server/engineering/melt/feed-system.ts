import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import { inscribedDiameterMm } from '../geometry/inscribed-circle.js';
import type { Point } from '../geometry/point.js';
import { distanceMm, rimCrossings } from '../geometry/polyline.js';
import { shortestWays, type Ways } from './shortest-ways.js';
import { type Place, type Stop, type WayGraph, wayGraph } from './way-graph.js';

/** One stretch of the way melt takes, all of one section. */
export interface Stretch {
  /** The same number for the same channel or area, whichever cavity's way leads through it. */
  readonly place: number;
  readonly feature: 'FEED' | 'RUNNER' | 'GATE' | 'CAVITY';
  readonly lengthMm: number;
  readonly depthMm: number;
  /** Of a channel its cutter, of a pocket the widest circle that fits in. */
  readonly widthMm: number;
}

/** Where melt runs into a cavity. */
export interface Inlet {
  readonly at: Point;
  /** What it comes through: a gate, or a runner or the feed that opens straight into the cavity. */
  readonly feature: 'FEED' | 'RUNNER' | 'GATE';
  readonly depthMm: number;
  readonly widthMm: number;
  /** How long the gate is between the runner's side and the cavity's rim, mm; 0 where there is no gate. */
  readonly landMm: number;
  /** From the middle of the feed to here by the shortest way, mm. */
  readonly wayMm: number;
  /** That way, from the feed on, stretch by stretch. */
  readonly stretches: readonly Stretch[];
}

/** How melt gets from the feed to the cavities, as the drawing shows it. */
export interface FeedSystem {
  /** By the drawing's cavities; a cavity that no way leads to has no inlet. */
  readonly inlets: readonly (readonly Inlet[])[];
  /** Everything melt can run through, and by the same numbers whether a way leads there from the feed. */
  readonly places: readonly Place[];
  readonly reached: readonly boolean[];
  /** Where a runner or gate lies that no way leads to from the feed. */
  readonly unreached: readonly { readonly feature: 'RUNNER' | 'GATE'; readonly at: Point }[];
  /** Gates that are reached and lead to no cavity, by their place. */
  readonly blindGates: readonly { readonly place: number; readonly at: Point }[];
}

type FeedDrawing = Pick<MeasuredDrawing, 'feed' | 'ways' | 'cavities' | 'features'>;

/**
 * Reads the feed system from the drawing as a graph: nothing that is drawn has to be told. Lengths follow the drawn
 * centre lines; through an area they go straight.
 */
export function feedSystem(drawing: FeedDrawing): FeedSystem {
  const graph = wayGraph(drawing);
  const reach = shortestWays(graph, [0]);
  const inlets = drawing.cavities.map((): Inlet[] => []);
  const leading = new Set<number>();
  for (const { from, to } of jointsInto(graph)) {
    const [{ place }, { place: into }] = [
      graph.stops[from] as { place: number },
      graph.stops[to] as { place: number },
    ];
    const cavity = cavityOf(graph.places[into] as Place);
    leading.add(place);
    if (cavity === null || !Number.isFinite(reach.wayMm[from]) || passes(graph, reach, from, into)) continue;
    inlets[cavity]?.push(inletAt(drawing, graph, reach, from));
  }
  const reached = graph.places.map(() => false);
  for (const [i, { place }] of graph.stops.entries())
    if (Number.isFinite(reach.wayMm[i])) reached[place] = true;
  return {
    inlets: inlets.map(onePerWay),
    places: graph.places,
    reached,
    unreached: graph.places.flatMap((place, i) =>
      (place.feature === 'RUNNER' || place.feature === 'GATE') && !reached[i]
        ? [{ feature: place.feature, at: spotOf(place) }]
        : [],
    ),
    blindGates: graph.places.flatMap((place, i) =>
      place.feature === 'GATE' && reached[i] && !leading.has(i) ? [{ place: i, at: spotOf(place) }] : [],
    ),
  };
}

/** Every meeting of what is no cavity with a cavity, from the one to the other. */
function jointsInto({
  places,
  stops,
  edges,
}: WayGraph): readonly { readonly from: number; readonly to: number }[] {
  return edges.flatMap((own, from) => {
    const isCavity = (stop: number) => cavityOf(places[stops[stop]?.place ?? 0] as Place) !== null;
    if (isCavity(from)) return [];
    return own.flatMap(({ to, place }) => (place === null && isCavity(to) ? [{ from, to }] : []));
  });
}

function cavityOf(place: Place): number | null {
  return place.kind === 'area' ? place.cavity : null;
}

/** Whether the way to a stop has already been through that place. */
function passes({ stops }: WayGraph, { by }: Ways, stop: number, place: number): boolean {
  for (let at = stop, step = by[at]; step; at = step.from, step = by[at]) {
    if (stops[step.from]?.place === place) return true;
  }
  return false;
}

function inletAt(drawing: FeedDrawing, graph: WayGraph, reach: Ways, stop: number): Inlet {
  const place = graph.places[graph.stops[stop]?.place ?? 0] as Place;
  const { depthMm, widthMm } = sectionOf(place);
  return {
    at: (graph.stops[stop] as { at: Point }).at,
    feature: wayFeature(place),
    depthMm,
    widthMm,
    landMm: place.feature === 'GATE' ? landMm(drawing, graph, reach, stop) : 0,
    wayMm: reach.wayMm[stop] as number,
    stretches: stretchesTo(graph, reach, stop),
  };
}

/** The gate's own length on the way to its end at a cavity, less what lies inside the runner. */
function landMm({ features }: FeedDrawing, { places, stops }: WayGraph, { by }: Ways, stop: number): number {
  const end = stops[stop] as Stop;
  const place = places[end.place] as Place;
  let start = end;
  for (let step = by[stop]; step && stops[step.from]?.place === end.place; step = by[step.from]) {
    start = stops[step.from] as Stop;
  }
  const wholeMm =
    place.kind === 'channel' ? Math.abs(end.alongMm - start.alongMm) : distanceMm(start.at, end.at);
  const path = place.kind === 'channel' ? place.way.path : [start.at, end.at];
  const endMm = place.kind === 'channel' ? end.alongMm : wholeMm;
  const outside = rimCrossings(path, features.RUNNER?.region ?? [])
    .map(({ alongMm }) => Math.abs(endMm - alongMm))
    .filter((lengthMm) => lengthMm < wholeMm);
  return Math.min(wholeMm, ...outside);
}

/** What an inlet or stretch comes through; the graph of melt has no vents and no air. */
function wayFeature({ feature }: Place): 'FEED' | 'RUNNER' | 'GATE' {
  return feature === 'FEED' || feature === 'GATE' ? feature : 'RUNNER';
}

function stretchesTo(graph: WayGraph, { by }: Ways, stop: number): readonly Stretch[] {
  const found: Stretch[] = [];
  let last: number | null = null;
  for (let at = stop, step = by[at]; step; at = step.from, step = by[at]) {
    const index = step.place ?? (graph.stops[at]?.place as number);
    const place = graph.places[index] as Place;
    const before = found[0];
    if (before && last === index) found[0] = { ...before, lengthMm: before.lengthMm + step.lengthMm };
    else if (step.lengthMm > 0)
      found.unshift({
        place: index,
        feature: place.feature === 'CAVITY' ? 'CAVITY' : wayFeature(place),
        lengthMm: step.lengthMm,
        ...sectionOf(place),
      });
    else continue;
    last = index;
  }
  return found;
}

function sectionOf(place: Place): { readonly depthMm: number; readonly widthMm: number } {
  if (place.kind === 'channel') return { depthMm: place.way.depthMm, widthMm: place.way.widthMm };
  const { bounds, depthMm, feature, region } = place;
  const widthMm = feature === 'FEED' ? bounds.maxX - bounds.minX : inscribedDiameterMm(region);
  return { depthMm, widthMm };
}

/** A line that crosses a rim more than once between two runs is one inlet: where it comes first. */
function onePerWay(inlets: readonly Inlet[]): readonly Inlet[] {
  const nearestFirst = inlets.toSorted((a, b) => a.wayMm - b.wayMm);
  return nearestFirst.filter(
    (inlet, i) =>
      !nearestFirst
        .slice(0, i)
        .some((other) => Math.hypot(other.at.x - inlet.at.x, other.at.y - inlet.at.y) < inlet.widthMm),
  );
}

function spotOf(place: Place): Point {
  if (place.kind === 'channel') return place.way.path[0] as Point;
  return place.region[0]?.[0] as Point;
}
