import { fixed } from './svg.js';

/**
 * Path data that hatches an upright box at 45 degrees, lines `gap` apart along x. `rising` leans like a slash,
 * otherwise like a backslash: parts that touch are hatched opposite ways. Plain lines need no pattern and no id.
 */
export function hatch(x1: number, y1: number, x2: number, y2: number, gap: number, rising = true): string {
  const left = Math.min(x1, x2);
  const right = Math.max(x1, x2);
  const top = Math.min(y1, y2);
  const bottom = Math.max(y1, y2);
  const height = bottom - top;
  let data = '';
  for (let foot = Math.ceil((left - height) / gap) * gap; foot < right; foot += gap) {
    // A line from (foot, low edge) to (foot + height, high edge), cut to the box.
    const from = Math.max(foot, left);
    const to = Math.min(foot + height, right);
    if (to - from < 0.02) continue;
    const climb = (x: number) => (rising ? bottom - (x - foot) : top + (x - foot));
    data += `M${fixed(from)} ${fixed(climb(from))}L${fixed(to)} ${fixed(climb(to))}`;
  }
  return data;
}
