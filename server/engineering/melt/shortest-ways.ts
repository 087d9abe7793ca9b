import type { WayGraph } from './way-graph.js';

/** The shortest way to every stop of a graph; infinite where there is none. */
export interface Ways {
  readonly wayMm: readonly number[];
  /** The edge each stop is reached by. */
  readonly by: readonly ({
    readonly from: number;
    readonly lengthMm: number;
    readonly place: number | null;
  } | null)[];
}

/** Dijkstra's shortest ways from some stops; a plate has some hundred stops at most, so the nearest is searched for. */
export function shortestWays({ stops, edges }: WayGraph, from: readonly number[]): Ways {
  const wayMm = stops.map(() => Infinity);
  const by: Ways['by'][number][] = stops.map(() => null);
  const open = new Set<number>(from);
  for (const stop of from) wayMm[stop] = 0;
  while (open.size > 0) {
    let next = -1;
    for (const stop of open) if (next < 0 || (wayMm[stop] as number) < (wayMm[next] as number)) next = stop;
    open.delete(next);
    for (const { to, lengthMm, place } of edges[next] ?? []) {
      const wayToMm = (wayMm[next] as number) + lengthMm;
      if (wayToMm >= (wayMm[to] as number)) continue;
      wayMm[to] = wayToMm;
      by[to] = { from: next, lengthMm, place };
      open.add(to);
    }
  }
  return { wayMm, by };
}
