import { SCREW_SIZES, screwSize } from '../../engineering/fit/fasteners/iso-261-threads.js';
import type { TappedHole } from '../../engineering/press-facts.js';
import { HOLE_TABLE_ERRORS as WRONG } from '../../words/en/bolster-form.js';
import { HOLES_MAX } from '../schemas.js';
import { linesOf, readLength, writeLength } from './read-length.js';

/** What a line that gives a place alone is tapped with. */
export type UsualHole = Omit<TappedHole, 'at'>;

/** Farther from the sprue axis than any face reaches, mm. */
const FARTHEST_MM = 5000;

const HEADING = /^x$/i;

/** The holes of a table, one a line: x, y, and where it differs from the usual thread, depth and position within. */
export function readHoles(
  text: string,
  usual: UsualHole,
): { readonly holes: readonly TappedHole[] } | { readonly error: string } {
  const lines = linesOf(text).filter(({ words: [first = ''] }) => !HEADING.test(first));
  if (lines.length > HOLES_MAX) return { error: WRONG.tooMany(HOLES_MAX) };
  const holes: TappedHole[] = [];
  for (const { line, words } of lines) {
    const hole = holeOf(words, usual);
    if ('wrong' in hole) return { error: WRONG.line(line, hole.wrong) };
    holes.push(hole);
  }
  return { holes };
}

/** The table of some holes; thread, depth and position stand in every line. */
export function writeHoles(holes: readonly TappedHole[]): string {
  return holes
    .map(({ at, thread, depthMm, positionMm }) =>
      [writeLength(at.x), writeLength(at.y), thread, writeLength(depthMm), writeLength(positionMm)].join(
        '  ',
      ),
    )
    .join('\n');
}

function holeOf(words: readonly string[], usual: UsualHole): TappedHole | { readonly wrong: string } {
  const [xWord = '', yWord = '', threadWord, depthWord, positionWord, more] = words;
  const [x, y] = [readLength(xWord), readLength(yWord)];
  if (x === undefined || y === undefined) return { wrong: WRONG.place };
  if (Math.max(Math.abs(x), Math.abs(y)) > FARTHEST_MM) return { wrong: WRONG.far };
  const thread = threadWord === undefined ? usual.thread : screwSize(threadWord);
  if (thread === null) return { wrong: WRONG.thread(threadWord ?? '', SCREW_SIZES) };
  const depthMm = depthWord === undefined ? usual.depthMm : readLength(depthWord);
  if (depthMm === undefined || depthMm < 1 || depthMm > 200) return { wrong: WRONG.depth };
  const positionMm = positionWord === undefined ? usual.positionMm : readLength(positionWord);
  if (positionMm === undefined || positionMm < 0 || positionMm > 2) return { wrong: WRONG.position };
  if (more !== undefined) return { wrong: WRONG.more(more) };
  return { at: { x, y }, thread, depthMm, positionMm };
}
