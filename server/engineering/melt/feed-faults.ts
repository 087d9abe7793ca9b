import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, Finding } from '../finding.js';
import { distanceBetween, type Separation } from '../geometry/distance.js';
import type { Point, Region } from '../geometry/point.js';
import { sweepPath } from '../geometry/sweep.js';
import type { FeedSystem } from './feed-system.js';
import type { Place } from './way-graph.js';

/** What is wrong with the way from the feed to the cavities, as a finding says it. */
export type FeedFault = Pick<
  Finding,
  | 'verdict'
  | 'situation'
  | 'figure'
  | 'limit'
  | 'allowed'
  | 'unit'
  | 'margin'
  | 'figures'
  | 'places'
  | 'cures'
>;

/**
 * The worst fault of a feed system, null when there is none: cavities that no way leads to; else a runner or gate that
 * does not hang on the feed; else a gate that ends before a cavity. Nothing of it hurts more than the shot: cautions.
 * Whether a way is wide enough is not judged here.
 */
export function feedFault(drawing: Pick<MeasuredDrawing, 'cavities'>, system: FeedSystem): FeedFault | null {
  return notJoined(drawing, system) ?? wayApart(system) ?? blindGate(drawing, system);
}

function notJoined({ cavities }: Pick<MeasuredDrawing, 'cavities'>, system: FeedSystem): FeedFault | null {
  const empty = system.places.flatMap((place, i) =>
    place.kind === 'area' && place.cavity !== null && !system.reached[i] ? [place.cavity] : [],
  );
  if (empty.length === 0) return null;
  const fed = cavities.length - empty.length;
  return {
    ...counted('cavities-not-joined', fed, cavities.length),
    figures: { cavities: cavities.length, fed, cavityNumbers: empty.map((cavity) => cavity + 1) },
    places: empty.flatMap((cavity) => cavities[cavity]?.centroid ?? []),
    cures: joinCuts(placesThat(system, true), placesThat(system, false)),
  };
}

function wayApart(system: FeedSystem): FeedFault | null {
  const { places, unreached } = system;
  const [first] = unreached;
  if (first === undefined) return null;
  const ways = places.filter(isWay).length;
  return {
    ...counted('way-apart', ways - unreached.length, ways),
    figures: { feature: first.feature.toLowerCase(), apart: unreached.length, ways },
    places: unreached.map(({ at }) => at),
    cures: joinCuts(placesThat(system, true), placesThat(system, false).filter(isWay)),
  };
}

function blindGate({ cavities }: Pick<MeasuredDrawing, 'cavities'>, system: FeedSystem): FeedFault | null {
  const { blindGates, places } = system;
  const [first] = blindGates;
  if (first === undefined) return null;
  const gates = places.filter(({ feature }) => feature === 'GATE').length;
  const shortOf = blindGates.map(({ place }) =>
    nearest(
      [placeRegion(places[place] as Place)],
      cavities.map(({ region }) => region),
    ),
  );
  return {
    ...counted('blind-gate', gates - blindGates.length, gates),
    figures: { gates, blind: blindGates.length },
    places: blindGates.map(({ at }, i) => shortOf[i]?.from ?? at),
    cures: shortOf.slice(0, 1).flatMap((gap) => (gap === null ? [] : [cureOf('lead-gate-on', gap)])),
  };
}

function counted(situation: string, figure: number, limit: number) {
  const margin = figure - limit;
  return { verdict: 'caution', situation, figure, limit, allowed: 'at-least', unit: '', margin } as const;
}

function isWay({ feature }: Place): boolean {
  return feature === 'RUNNER' || feature === 'GATE';
}

function placesThat({ places, reached }: FeedSystem, areReached: boolean): readonly Place[] {
  return places.filter((_, i) => reached[i] === areReached);
}

/** The shortest cut that would join the nearest of the others, from where to where on the drawing. */
function joinCuts(reached: readonly Place[], others: readonly Place[]): readonly Cure[] {
  const gap = nearest(reached.map(placeRegion), others.map(placeRegion));
  return gap === null ? [] : [cureOf('join-cuts', gap)];
}

function nearest(some: readonly Region[], others: readonly Region[]): Separation | null {
  const gaps = others.flatMap((other) => some.flatMap((one) => distanceBetween(one, other) ?? []));
  return gaps.reduce<Separation | null>(
    (best, gap) => (best === null || gap.distanceMm < best.distanceMm ? gap : best),
    null,
  );
}

function placeRegion(place: Place): Region {
  return place.kind === 'area' ? place.region : sweepPath(place.way.path, place.way.widthMm);
}

function cureOf(code: string, { from, to, distanceMm }: Separation): Cure {
  const figures = { fromXMm: from.x, fromYMm: from.y, toXMm: to.x, toYMm: to.y };
  return { code, amount: distanceMm, unit: 'mm', figures, at: to };
}

/** Where a runner opens straight into a cavity, without a gate. */
export function openRunners({ inlets }: Pick<FeedSystem, 'inlets'>): readonly {
  readonly cavity: number;
  readonly at: Point;
  readonly depthMm: number;
  readonly widthMm: number;
}[] {
  return inlets.flatMap((own, cavity) =>
    own
      .filter(({ feature }) => feature === 'RUNNER')
      .map(({ at, depthMm, widthMm }) => ({ cavity, at, depthMm, widthMm })),
  );
}
