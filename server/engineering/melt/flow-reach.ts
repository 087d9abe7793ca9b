import type { Cavity } from '../drawing/measured-drawing.js';
import { boundsOf } from '../geometry/bounds.js';
import type { Point, Region, Ring } from '../geometry/point.js';
import { distanceMm } from '../geometry/polyline.js';

/** How far melt has to run inside a cavity. */
export interface FlowReach {
  /** Length of the way to the place that is reached last, mm. */
  readonly lengthMm: number;
  /** The same way as length over depth, each stretch by its own depth: the flow ratio. */
  readonly ratio: number;
  /** The place reached last. */
  readonly at: Point;
}

/**
 * How far melt runs inside a cavity from its inlets to the place reached last, round islands and by the ways that
 * are shortest for their depth. Exact from one inlet into an area of one depth that bulges everywhere; elsewhere on a grid of 20
 * cells over the longer side, whose steps are up to 3 % too long. Null without an inlet.
 */
export function flowReach(cavity: Cavity, inlets: readonly Point[]): FlowReach | null {
  const [inlet, ...others] = inlets;
  const [outline, ...islands] = cavity.region;
  const [level, ...deeper] = cavity.levels;
  if (inlet === undefined || outline === undefined || level === undefined) return null;
  if (islands.length + deeper.length + others.length === 0 && bulgesEverywhere(outline)) {
    return straightReach(outline, level.depthMm, inlet);
  }
  return reachOnGrid(cavity, inlets);
}

function straightReach(outline: Ring, depthMm: number, inlet: Point): FlowReach {
  let farthest = { lengthMm: -1, at: outline[0] as Point };
  for (const at of outline) {
    const lengthMm = distanceMm(inlet, at);
    if (lengthMm > farthest.lengthMm) farthest = { lengthMm, at };
  }
  return { ...farthest, ratio: farthest.lengthMm / depthMm };
}

/** Turned to the left at every corner, but for what flattening a curve may leave. */
function bulgesEverywhere(ring: Ring): boolean {
  return ring.every((b, i) => {
    const a = ring.at(i - 1) as Point;
    const c = ring[(i + 1) % ring.length] as Point;
    const turn = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
    return turn >= -1e-3 * distanceMm(a, b) * distanceMm(b, c);
  });
}

const CELLS = 20;

interface Grid {
  readonly columns: number;
  readonly rows: number;
  readonly cellMm: number;
  readonly corner: Point;
  /** Depth by cell, mm; 0 where metal stands. */
  readonly depthMm: Float64Array;
}

function reachOnGrid(cavity: Cavity, inlets: readonly Point[]): FlowReach {
  const grid = gridOf(cavity);
  const { columns, rows, depthMm } = grid;
  const ratio = new Float64Array(columns * rows).fill(Infinity);
  const lengthMm = new Float64Array(columns * rows);
  for (const inlet of inlets) startAt(grid, inlet, ratio, lengthMm);
  // All four corners in turn, until none of them shortens anything.
  for (let pass = 0, idle = 0; idle < 4 && pass < 4 * (columns + rows); pass++) {
    idle = sweep(grid, ratio, lengthMm, pass % 4) ? 0 : idle + 1;
  }
  let last = -1;
  for (let i = 0; i < ratio.length; i++) {
    const reached = (depthMm[i] as number) > 0 && Number.isFinite(ratio[i]);
    if (reached && (last < 0 || (ratio[i] as number) > (ratio[last] as number))) last = i;
  }
  if (last < 0) return { lengthMm: 0, ratio: 0, at: inlets[0] as Point };
  return { lengthMm: lengthMm[last] as number, ratio: ratio[last] as number, at: middleOf(grid, last) };
}

function gridOf({ region, levels }: Cavity): Grid {
  const { minX, minY, maxX, maxY } = boundsOf(region);
  const cellMm = Math.max(maxX - minX, maxY - minY) / CELLS;
  const [columns, rows] = [Math.ceil((maxX - minX) / cellMm), Math.ceil((maxY - minY) / cellMm)];
  const grid = {
    columns,
    rows,
    cellMm,
    corner: { x: minX, y: minY },
    depthMm: new Float64Array(columns * rows),
  };
  for (const level of levels) fill(grid, level.region, level.depthMm);
  return grid;
}

/** Marks the cells whose middle lies in the region, row by row. */
function fill({ columns, rows, cellMm, corner, depthMm }: Grid, region: Region, levelMm: number): void {
  for (let row = 0; row < rows; row++) {
    const y = corner.y + (row + 0.5) * cellMm;
    const crossings = crossingsAt(region, y);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const first = Math.max(0, Math.ceil(((crossings[k] as number) - corner.x) / cellMm - 0.5));
      const end = Math.min(columns - 1, Math.floor(((crossings[k + 1] as number) - corner.x) / cellMm - 0.5));
      depthMm.fill(levelMm, row * columns + first, row * columns + Math.max(first, end + 1));
    }
  }
}

function crossingsAt(region: Region, y: number): readonly number[] {
  const found: number[] = [];
  for (const ring of region) {
    let a = ring.at(-1);
    for (const b of ring) {
      if (a && a.y > y !== b.y > y) found.push(b.x + ((a.x - b.x) * (y - b.y)) / (a.y - b.y));
      a = b;
    }
  }
  return found.sort((one, other) => one - other);
}

/** An inlet lies on the rim: melt starts from the cut cell nearest to it. */
function startAt(grid: Grid, inlet: Point, ratio: Float64Array, lengthMm: Float64Array): void {
  let nearest = -1;
  let nearestMm = Infinity;
  for (let i = 0; i < grid.depthMm.length; i++) {
    if (grid.depthMm[i] === 0) continue;
    const offMm = distanceMm(middleOf(grid, i), inlet);
    if (offMm < nearestMm) [nearest, nearestMm] = [i, offMm];
  }
  if (nearest < 0) return;
  const here = nearestMm / (grid.depthMm[nearest] as number);
  if (here >= (ratio[nearest] as number)) return;
  ratio[nearest] = here;
  lengthMm[nearest] = nearestMm;
}

function middleOf({ columns, cellMm, corner }: Grid, index: number): Point {
  return {
    x: corner.x + ((index % columns) + 0.5) * cellMm,
    y: corner.y + (Math.floor(index / columns) + 0.5) * cellMm,
  };
}

/** Straight, slanting and knight's steps: sixteen directions, as columns, rows and cells. */
const STEPS = Float64Array.from(
  [-2, -1, 0, 1, 2].flatMap((dx) =>
    [-2, -1, 0, 1, 2].flatMap((dy) => {
      const isStep = Math.max(Math.abs(dx), Math.abs(dy)) === 1 || Math.abs(dx * dy) === 2;
      return isStep ? [dx, dy, Math.hypot(dx, dy)] : [];
    }),
  ),
);

/** One pass over all cells from one of the four corners; whether any way became shorter. */
function sweep(grid: Grid, ratio: Float64Array, lengthMm: Float64Array, from: number): boolean {
  const { columns, rows, cellMm, depthMm } = grid;
  let changed = false;
  for (let r = 0; r < rows; r++) {
    const row = from < 2 ? r : rows - 1 - r;
    for (let c = 0; c < columns; c++) {
      const column = from % 2 === 0 ? c : columns - 1 - c;
      const here = row * columns + column;
      const hereMm = depthMm[here] as number;
      if (hereMm === 0) continue;
      let best = (ratio[here] as number) - 1e-9;
      for (let k = 0; k < STEPS.length; k += 3) {
        const x = column + (STEPS[k] as number);
        const y = row + (STEPS[k + 1] as number);
        if (x < 0 || y < 0 || x >= columns || y >= rows) continue;
        const other = y * columns + x;
        const otherMm = depthMm[other] as number;
        // What lies farther than the best so far cannot shorten it.
        if (otherMm === 0 || (ratio[other] as number) >= best) continue;
        const stepMm = (STEPS[k + 2] as number) * cellMm;
        const through = (ratio[other] as number) + (2 * stepMm) / (hereMm + otherMm);
        if (through >= best) continue;
        best = through;
        ratio[here] = through;
        lengthMm[here] = (lengthMm[other] as number) + stepMm;
        changed = true;
      }
    }
  }
  return changed;
}
