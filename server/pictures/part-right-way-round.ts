import type { Cavity, DepthLevel } from '../engineering/drawing/measured-drawing.js';
import { boundsOf } from '../engineering/geometry/bounds.js';
import type { Point, Region } from '../engineering/geometry/point.js';
import { depthStep } from './depth-steps.js';
import { horizontalDimension, verticalDimension } from './dimension.js';
import { regionPath } from './region-path.js';
import type { SafeHtml } from './safe-html.js';
import { fixed, line, path, svg } from './svg.js';

export interface PartInput {
  readonly cavity: Cavity;
  /** Deepest cut of the whole plate, so that tones agree with the plate's own picture. */
  readonly deepestMm: number;
  readonly label: string;
  readonly words: { readonly length: (lengthMm: number) => string };
}

/** Letters are this share of the picture's width: about 13 px where it is shown 400 px wide. */
const LETTERS_PER_WIDTH = 13 / 400;

/**
 * A moulded part as it lies in the hand, the side out of the cavity up: the mirror of what is cut, so that reversed
 * lettering shows. Beside it the section through its middle. Dimensions of width, height, and the two greatest depths.
 */
export function partRightWayRound({ cavity, deepestMm, label, words }: PartInput): SafeHtml {
  const bounds = boundsOf(cavity.region);
  const middle = { x: (bounds.minX + bounds.maxX) / 2, y: (bounds.minY + bounds.maxY) / 2 };
  const mirror = ({ x, y }: Point): Point => ({ x: middle.x - x, y: middle.y - y });
  const halfWidth = cavity.widthMm / 2;
  const halfHeight = cavity.heightMm / 2;
  // Room for two dimensions and the gap between the views grows with the letters, which grow with the width.
  const h = ((cavity.widthMm + cavity.maxDepthMm) * LETTERS_PER_WIDTH) / (1 - 13 * LETTERS_PER_WIDTH);
  const sectionAt = halfWidth + 4 * h;
  const frame = {
    x: -halfWidth - 3 * h,
    y: -halfHeight - 3 * h,
    width: cavity.widthMm + cavity.maxDepthMm + 13 * h,
    height: cavity.heightMm + 6 * h,
  };
  const top = cavity.levels
    .filter((level) => level.depthMm > 0)
    .map((level) =>
      path(`ps-cut ps-d${depthStep(level.depthMm, deepestMm)}`, regionPath(level.region, mirror)),
    )
    .join('');
  return svg(
    { frame, className: 'ps-picture ps-part', label, letterHeight: h },
    top +
      line('ps-centre-line', -halfWidth - h, 0, halfWidth + h, 0) +
      line('ps-centre-line', 0, -halfHeight - h, 0, halfHeight + h) +
      section(cavity, middle, sectionAt, deepestMm) +
      horizontalDimension(
        -halfWidth,
        halfWidth,
        -halfHeight - 1.5 * h,
        -halfHeight,
        words.length(cavity.widthMm),
        {
          letterHeight: h,
        },
      ) +
      verticalDimension(
        -halfHeight,
        halfHeight,
        -halfWidth - 1.5 * h,
        -halfWidth,
        words.length(cavity.heightMm),
        {
          letterHeight: h,
        },
      ) +
      depths(cavity, sectionAt, halfHeight, h, words.length),
  );
}

/** The section on the upright line through the part's middle: each stretch as thick as its depth. */
function section(cavity: Cavity, middle: Point, at: number, deepestMm: number): string {
  return cavity.levels
    .filter((level) => level.depthMm > 0)
    .toSorted((a, b) => b.depthMm - a.depthMm)
    .map((level) => {
      const data = stretchesOnLine(level, middle.x)
        .map(
          ([from, to]) =>
            `M${fixed(at)} ${fixed(middle.y - to)}H${fixed(at + level.depthMm)}V${fixed(middle.y - from)}H${fixed(at)}z`,
        )
        .join('');
      return path(`ps-cut ps-d${depthStep(level.depthMm, deepestMm)}`, data);
    })
    .join('');
}

/** Where the upright line at x runs inside a level, from and to in y. */
function stretchesOnLine(level: DepthLevel, x: number): readonly (readonly [number, number])[] {
  const crossings = crossingsOf(level.region, x);
  const stretches: (readonly [number, number])[] = [];
  for (let index = 0; index + 1 < crossings.length; index += 2)
    stretches.push([crossings[index] ?? 0, crossings[index + 1] ?? 0]);
  return stretches;
}

function crossingsOf(region: Region, x: number): number[] {
  const found: number[] = [];
  for (const ring of region) {
    let a = ring.at(-1);
    for (const b of ring) {
      if (a && a.x > x !== b.x > x) found.push(a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x));
      a = b;
    }
  }
  return found.sort((a, b) => a - b);
}

function depths(
  cavity: Cavity,
  at: number,
  halfHeight: number,
  h: number,
  length: (lengthMm: number) => string,
): string {
  const other = cavity.levels
    .map((level) => level.depthMm)
    .filter((depthMm) => depthMm > 0 && depthMm < cavity.maxDepthMm)
    .toSorted((a, b) => b - a)[0];
  const options = { letterHeight: h } as const;
  return (
    horizontalDimension(
      at,
      at + cavity.maxDepthMm,
      -halfHeight - 1.5 * h,
      -halfHeight,
      length(cavity.maxDepthMm),
      options,
    ) +
    (other === undefined
      ? ''
      : horizontalDimension(at, at + other, halfHeight + 1.5 * h, halfHeight, length(other), options))
  );
}
