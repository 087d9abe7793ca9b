import type { TappedHole } from '../../engineering/press-facts.js';
import { HOLE_GRID_ERRORS as WRONG } from '../../words/en/bolster-form.js';
import type { UsualHole } from './hole-table.js';
import { linesOf } from './read-length.js';

export interface HoleGrid {
  readonly columns: number;
  readonly rows: number;
  readonly pitchXMm: number;
  readonly pitchYMm: number;
  /** Place of the hole at the lower left; null for a grid round the sprue axis. */
  readonly firstXMm: number | null;
  readonly firstYMm: number | null;
  /** Columns and rows that are left out, counted from 1 at the lower left: `5,4 1,1`. */
  readonly leaveOut: string;
}

const COLUMN_AND_ROW = /^(\d+)[,/](\d+)$/;

/** The holes of a grid, column by column from the lower left, without those that are left out. */
export function holesOfGrid(
  grid: HoleGrid,
  usual: UsualHole,
): { readonly holes: readonly TappedHole[] } | { readonly error: string } {
  const { columns, rows, pitchXMm, pitchYMm } = grid;
  const left = leftOut(grid);
  if ('error' in left) return left;
  const firstX = grid.firstXMm ?? (-(columns - 1) / 2) * pitchXMm;
  const firstY = grid.firstYMm ?? (-(rows - 1) / 2) * pitchYMm;
  const holes = Array.from({ length: columns }, (_column, i) =>
    Array.from({ length: rows }, (_row, j) => ({ i, j })),
  )
    .flat()
    .filter(({ i, j }) => !left.out.has(`${i + 1},${j + 1}`))
    .map(({ i, j }) => ({ at: { x: firstX + i * pitchXMm, y: firstY + j * pitchYMm }, ...usual }));
  return { holes };
}

function leftOut({
  columns,
  rows,
  leaveOut,
}: HoleGrid): { readonly out: ReadonlySet<string> } | { readonly error: string } {
  const out = new Set<string>();
  for (const word of linesOf(leaveOut).flatMap(({ words }) => words)) {
    const [, column, row] = COLUMN_AND_ROW.exec(word) ?? [];
    const [i, j] = [Number(column), Number(row)];
    if (!(i >= 1 && i <= columns && j >= 1 && j <= rows))
      return { error: WRONG.leaveOut(word, columns, rows) };
    out.add(`${i},${j}`);
  }
  return { out };
}
