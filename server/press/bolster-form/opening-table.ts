import { circleOfRing } from '../../engineering/drawing/circle-of-ring.js';
import { circleRing } from '../../engineering/geometry/arc.js';
import { boundsOfPoints } from '../../engineering/geometry/bounds.js';
import type { Point, Region, Ring } from '../../engineering/geometry/point.js';
import { OPENING_TABLE_ERRORS as WRONG } from '../../words/en/bolster-form.js';
import { linesOf, readLength, writeLength } from './read-length.js';

const OPENINGS_MAX = 200;
const FARTHEST_MM = 5000;

/** Openings of a face, one a line: `circle x y diameter`, `rectangle x y width height`, `outline x y x y x y …`. */
export function readOpenings(text: string): { readonly openings: Region } | { readonly error: string } {
  const lines = linesOf(text);
  if (lines.length > OPENINGS_MAX) return { error: WRONG.tooMany(OPENINGS_MAX) };
  const openings: Ring[] = [];
  for (const { line, words } of lines) {
    const ring = ringOf(words);
    if (ring === undefined) return { error: WRONG.line(line, WRONG.shape) };
    if (ring.some(({ x, y }) => Math.max(Math.abs(x), Math.abs(y)) > FARTHEST_MM)) {
      return { error: WRONG.line(line, WRONG.far) };
    }
    openings.push(ring);
  }
  return { openings };
}

/** The table of some openings; what is neither a circle nor an upright rectangle is its outline. */
export function writeOpenings(openings: Region): string {
  return openings.map(lineOf).join('\n');
}

function ringOf([shape = '', ...words]: readonly string[]): Ring | undefined {
  const given = words.map(readLength);
  if (given.some((length) => length === undefined)) return undefined;
  const lengths = given as number[];
  const [x = 0, y = 0, a = 0, b = 0] = lengths;
  if (/^circle$/i.test(shape)) return lengths.length === 3 && a > 0 ? circleRing({ x, y }, a) : undefined;
  if (/^rectangle$/i.test(shape)) {
    return lengths.length === 4 && a > 0 && b > 0 ? rectangleRing({ x, y }, a, b) : undefined;
  }
  if (!/^outline$/i.test(shape) || lengths.length < 6 || lengths.length % 2 !== 0) return undefined;
  return lengths.flatMap((length, i) => (i % 2 === 0 ? [{ x: length, y: lengths[i + 1] ?? 0 }] : []));
}

function rectangleRing({ x, y }: Point, widthMm: number, heightMm: number): Ring {
  const [dx, dy] = [widthMm / 2, heightMm / 2];
  return [
    { x: x - dx, y: y - dy },
    { x: x + dx, y: y - dy },
    { x: x + dx, y: y + dy },
    { x: x - dx, y: y + dy },
  ];
}

function lineOf(ring: Ring): string {
  const circle = circleOfRing(ring);
  if (circle !== null) return `circle  ${written(circle.centre.x, circle.centre.y, circle.diameterMm)}`;
  const { minX, minY, maxX, maxY } = boundsOfPoints(ring);
  const isUpright =
    ring.length === 4 && ring.every(({ x, y }) => (x === minX || x === maxX) && (y === minY || y === maxY));
  if (isUpright) {
    return `rectangle  ${written((minX + maxX) / 2, (minY + maxY) / 2, maxX - minX, maxY - minY)}`;
  }
  return `outline  ${ring.map(({ x, y }) => written(x, y)).join('  ')}`;
}

function written(...lengths: readonly number[]): string {
  return lengths.map(writeLength).join(' ');
}
