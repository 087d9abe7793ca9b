/** A lump of metal of one temperature, and what flows into it from outside all the time. */
export interface HeatNode {
  readonly capacityJPerK: number;
  readonly inputW: number;
}

/** A way of heat between two nodes, or from a node to something that keeps its temperature. */
export type HeatLink =
  | { readonly from: number; readonly to: number; readonly conductanceWPerK: number }
  | { readonly from: number; readonly toC: number; readonly conductanceWPerK: number };

export interface HeatNetwork {
  readonly nodes: readonly HeatNode[];
  readonly links: readonly HeatLink[];
}

/**
 * Temperatures of every node, deg C, when nothing changes any more.
 * @throws RangeError for a node whose heat can go nowhere
 */
export function steadyC({ nodes, links }: HeatNetwork): readonly number[] {
  return solved(lossMatrix(nodes.length, links), inputs(nodes, links));
}

/**
 * Temperatures of every node step by step, the start included: the trapezium rule, which is stable at any step.
 *
 * @param stepS seconds from one row to the next
 */
export function warmingC(
  { nodes, links }: HeatNetwork,
  startC: number,
  stepS: number,
  steps: number,
): readonly (readonly number[])[] {
  const loss = lossMatrix(nodes.length, links);
  const input = inputs(nodes, links);
  const capacity = nodes.map(({ capacityJPerK }) => capacityJPerK / stepS);
  const ahead = loss.map((row, i) =>
    row.map((value, j) => value / 2 + (i === j ? (capacity[i] as number) : 0)),
  );
  // One column of the inverse per node: every step is then a product.
  const columns = nodes.map((_, i) =>
    solved(
      ahead,
      nodes.map((__, j) => (i === j ? 1 : 0)),
    ),
  );
  const rows = [nodes.map(() => startC)];
  for (let step = 0; step < steps; step++) {
    const now = rows.at(-1) as readonly number[];
    const right = now.map(
      (value, i) =>
        (capacity[i] as number) * value - dot(loss[i] as readonly number[], now) / 2 + (input[i] as number),
    );
    rows.push(
      nodes.map((_, i) =>
        columns.reduce((sum, column, j) => sum + (column[i] as number) * (right[j] as number), 0),
      ),
    );
  }
  return rows;
}

function lossMatrix(size: number, links: readonly HeatLink[]): number[][] {
  const loss = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const add = (i: number, j: number, value: number) => {
    const row = loss[i];
    if (row) row[j] = (row[j] ?? 0) + value;
  };
  for (const link of links) {
    add(link.from, link.from, link.conductanceWPerK);
    if (!('to' in link)) continue;
    add(link.to, link.to, link.conductanceWPerK);
    add(link.from, link.to, -link.conductanceWPerK);
    add(link.to, link.from, -link.conductanceWPerK);
  }
  return loss;
}

function inputs(nodes: readonly HeatNode[], links: readonly HeatLink[]): readonly number[] {
  const watts = nodes.map(({ inputW }) => inputW);
  for (const link of links) {
    if ('toC' in link) watts[link.from] = (watts[link.from] ?? 0) + link.conductanceWPerK * link.toC;
  }
  return watts;
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, i) => sum + value * (other[i] as number), 0);
}

/** Gauss's elimination with the largest pivot; a handful of nodes. */
function solved(matrix: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const rows = matrix.map((row, i) => [...row, right[i] as number]);
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let i = column + 1; i < size; i++) {
      if (Math.abs(rows[i]?.[column] ?? 0) > Math.abs(rows[pivot]?.[column] ?? 0)) pivot = i;
    }
    const [top, other] = [rows[pivot] as number[], rows[column] as number[]];
    if (!(Math.abs(top[column] as number) > 1e-12)) throw new RangeError('heat that can go nowhere');
    rows[column] = top;
    rows[pivot] = other;
    for (let i = 0; i < size; i++) {
      const row = rows[i] as number[];
      if (i === column) continue;
      const factor = (row[column] as number) / (top[column] as number);
      for (let j = column; j <= size; j++) row[j] = (row[j] as number) - factor * (top[j] as number);
    }
  }
  return rows.map((row, i) => (row[size] as number) / (row[i] as number));
}
