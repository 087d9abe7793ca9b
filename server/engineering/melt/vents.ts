import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import { boundsGrown, boundsOfPoints } from '../geometry/bounds.js';
import type { Point, Region } from '../geometry/point.js';
import { shortestWays, type Ways } from './shortest-ways.js';
import { areaPlace, cavityPlaces, layGraph, type Place, type WayGraph, wayPlace } from './way-graph.js';

/** A vent where it leaves a cavity. */
export interface CavityVent {
  readonly at: Point;
  /** At the rim: the land, which melt must not get through. */
  readonly depthMm: number;
  /** How far it goes before it is cut deeper, or reaches open air, mm; null where it reaches none. */
  readonly landMm: number | null;
  /** All the way to open air, mm; null where metal stands in the way. */
  readonly wayOutMm: number | null;
}

export interface VentSystem {
  /** By the drawing's cavities. */
  readonly vents: readonly (readonly CavityVent[])[];
  /** Vents that lead away from no cavity, no runner and no other vent. */
  readonly touchingNothing: readonly Point[];
}

/** Reads from the drawing which vents lead from which cavity to open air: the plate's edge or an opening in it. */
export function ventSystem(drawing: Pick<MeasuredDrawing, 'ways' | 'cavities' | 'plate'>): VentSystem {
  const ways = drawing.ways.filter(({ feature }) => feature !== 'GATE');
  const air = areaPlace({ feature: 'AIR', cavity: null, depthMm: 0, region: outsideOf(drawing.plate) });
  const places = [air, ...ways.map(wayPlace), ...cavityPlaces(drawing.cavities)];
  const graph = layGraph(places, [], ({ feature }) => feature === 'VENT');
  const reach = shortestWays(graph, stopsOn(graph, 'AIR'));
  const vents = drawing.cavities.map((): CavityVent[] => []);
  const leading = new Set<number>();
  for (const [from, own] of graph.edges.entries()) {
    const place = placeOf(graph, from);
    if (place.feature !== 'VENT') continue;
    for (const { to, place: through } of own) {
      const into = placeOf(graph, to);
      if (through !== null || into.feature === 'AIR') continue;
      leading.add(graph.stops[from]?.place ?? 0);
      const cavity = into.kind === 'area' ? into.cavity : null;
      if (cavity !== null) vents[cavity]?.push(ventAt(graph, reach, from));
    }
  }
  return {
    vents,
    touchingNothing: places.flatMap((place, i) =>
      place.feature === 'VENT' && !leading.has(i) ? [spotOf(place)] : [],
    ),
  };
}

/** All round the plate, and the openings cut right through it. */
function outsideOf({ outline, openings }: MeasuredDrawing['plate']): Region {
  const { minX, minY, maxX, maxY } = boundsGrown(boundsOfPoints(outline), 50);
  const around = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
  return [around, [...outline].reverse(), ...openings];
}

function stopsOn({ stops, places }: WayGraph, feature: Place['feature']): readonly number[] {
  return stops.flatMap(({ place }, i) => (places[place]?.feature === feature ? [i] : []));
}

function placeOf({ places, stops }: WayGraph, stop: number): Place {
  return places[stops[stop]?.place ?? 0] as Place;
}

function ventAt(graph: WayGraph, { wayMm, by }: Ways, stop: number): CavityVent {
  const depthMm = depthOf(placeOf(graph, stop));
  const at = (graph.stops[stop] as { at: Point }).at;
  if (!Number.isFinite(wayMm[stop])) return { at, depthMm, landMm: null, wayOutMm: null };
  let landMm = 0;
  for (let here = stop, step = by[here]; step; here = step.from, step = by[here]) {
    const place = step.place === null ? placeOf(graph, step.from) : (graph.places[step.place] as Place);
    if (place.feature === 'VENT' && depthOf(place) > depthMm) break;
    landMm += step.lengthMm;
  }
  return { at, depthMm, landMm, wayOutMm: wayMm[stop] as number };
}

function depthOf(place: Place): number {
  return place.kind === 'channel' ? place.way.depthMm : place.depthMm;
}

function spotOf(place: Place): Point {
  return place.kind === 'channel' ? (place.way.path[0] as Point) : (place.region[0]?.[0] as Point);
}
