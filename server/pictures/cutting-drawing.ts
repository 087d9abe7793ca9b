import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import type { Point } from '../engineering/geometry/point.js';
import type { CuttingList } from '../engineering/machining/cutting-list.js';
import { deepestMm, depthAreas, depthStep } from './depth-steps.js';
import { regionPath } from './region-path.js';
import type { SafeHtml } from './safe-html.js';
import { circle, fixed, line, path, svg, text } from './svg.js';

export interface CuttingDrawingInput {
  readonly drawing: MeasuredDrawing;
  readonly list: CuttingList;
  /** What the picture shows, in words. */
  readonly label: string;
  readonly words: {
    readonly ordinate: (mm: number) => string;
    readonly feed: string;
  };
}

/** On a sheet of A4 the plate is at most so wide and high, and letters are 9 pt, mm. */
const PAPER = { widthMm: 145, heightMm: 85, lettersMm: 3.2 };

interface Drawn extends CuttingDrawingInput {
  readonly h: number;
  readonly width: number;
  readonly height: number;
  readonly place: (point: Point) => Point;
}

/**
 * The plate on its parting face as it lies on the mill, its datum corner at the lower left: every hole with its number,
 * and ordinates of holes and feed from the two edges of the datum.
 */
export function cuttingDrawing(input: CuttingDrawingInput): SafeHtml {
  const { datum, finished } = input.list;
  const { widthMm: width, heightMm: height } = finished;
  const h = PAPER.lettersMm * Math.max(width / PAPER.widthMm, height / PAPER.heightMm);
  const place = ({ x, y }: Point) => ({ x: x - datum.x, y: height - (y - datum.y) });
  const drawn = { ...input, h, width, height, place };
  const margin = 6.5 * h;
  return svg(
    {
      frame: { x: -margin, y: -2 * h, width: width + margin + 2 * h, height: height + margin + 2 * h },
      className: 'ps-picture ps-cutting',
      label: input.label,
      letterHeight: h,
    },
    metal(drawn) + holes(drawn) + feed(drawn) + ordinates(drawn) + datumCorner(drawn),
  );
}

function metal({ drawing, place }: Drawn): string {
  const deepest = deepestMm(drawing);
  const cuts = depthAreas(drawing).map(({ depthMm, region }) =>
    path(`ps-cut ps-d${depthStep(depthMm, deepest)}`, regionPath(region, place)),
  );
  const outline = regionPath([drawing.plate.outline, ...drawing.plate.openings], place);
  const bores = drawing.water.map(({ region }) => path('ps-hidden-edge', regionPath(region, place)));
  return path('ps-plate', outline) + cuts.join('') + bores.join('');
}

/** A hole with its centre lines, its sink and its number beside it. */
function holes({ list, place, h }: Drawn): string {
  return list.holes
    .map(({ number, at, drillMm, sink }) => {
      const { x, y } = place(at);
      const r = Math.max(drillMm, sink?.diameterMm ?? 0) / 2;
      const arm = r + 0.5 * h;
      return (
        circle('ps-bolt', x, y, drillMm / 2) +
        (sink === null ? '' : circle('ps-bolt', x, y, sink.diameterMm / 2)) +
        line('ps-thin', x - arm, y, x + arm, y) +
        line('ps-thin', x, y - arm, x, y + arm) +
        text(
          'ps-dim-text ps-tone-ink',
          x + 0.75 * r + 0.2 * h,
          y - 0.75 * r - 0.2 * h,
          String(number),
          'start',
        )
      );
    })
    .join('');
}

function feed({ drawing, place, h }: Drawn): string {
  const { x, y } = place(drawing.feed.at);
  const r = drawing.feed.diameterMm / 2;
  const arm = r + h;
  return (
    circle('ps-bolt', x, y, r) +
    line('ps-centre-line', x - arm, y, x + arm, y) +
    line('ps-centre-line', x, y - arm, x, y + arm)
  );
}

/** Where both edges are touched off: two short thick lines along them. */
function datumCorner({ height, h }: Drawn): string {
  return path('ps-datum', `M0 ${fixed(height - 3 * h)}V${fixed(height)}H${fixed(3 * h)}`);
}

function ordinates({ list, height, width, h, words }: Drawn): string {
  const points = [...list.holes.map(({ fromDatum }) => fromDatum), list.feed.fromDatum];
  const xs = distinct([0, width, ...points.map(({ x }) => x)]);
  const ys = distinct([0, height, ...points.map(({ y }) => y)]);
  const below = spread(xs, 1.25 * h).map(({ value, at }) => {
    const [start, end] = [height + 0.4 * h, height + 2.6 * h];
    const kink = `M${fixed(value)} ${fixed(start)}V${fixed(start + 0.7 * h)}L${fixed(at)} ${fixed(end - 0.6 * h)}V${fixed(end)}`;
    const x = at + 0.36 * h;
    const turn = `rotate(-90 ${fixed(x)} ${fixed(end + 0.3 * h)})`;
    return (
      path('ps-dim ps-tone-ink', kink) +
      text(
        'ps-dim-text ps-tone-ink',
        x,
        end + 0.3 * h,
        ordinateWords(words, value, list.feed.fromDatum.x),
        'end',
        turn,
      )
    );
  });
  const beside = spread(ys, 1.25 * h).map(({ value, at }) => {
    const [start, end] = [-0.4 * h, -2.6 * h];
    const y = height - value;
    const kink = `M${fixed(start)} ${fixed(y)}H${fixed(start - 0.7 * h)}L${fixed(end + 0.6 * h)} ${fixed(height - at)}H${fixed(end)}`;
    return (
      path('ps-dim ps-tone-ink', kink) +
      text(
        'ps-dim-text ps-tone-ink',
        end - 0.3 * h,
        height - at + 0.36 * h,
        ordinateWords(words, value, list.feed.fromDatum.y),
        'end',
      )
    );
  });
  return below.join('') + beside.join('');
}

/** An ordinate, and the word at the feed's, where no label has to stand on a dark cut. */
function ordinateWords(words: Drawn['words'], value: number, feedMm: number): string {
  const isFeed = Math.abs(value - feedMm) <= SAME_MM;
  return isFeed ? `${words.feed} ${words.ordinate(value)}` : words.ordinate(value);
}

/** Places that differ by less than this share an ordinate, mm. */
const SAME_MM = 0.005;

function distinct(values: readonly number[]): readonly number[] {
  return values
    .toSorted((a, b) => a - b)
    .filter((value, i, sorted) => i === 0 || value - (sorted[i - 1] ?? 0) > SAME_MM);
}

/** Labels moved apart to where they have room, as little as can be from where they belong. */
function spread(values: readonly number[], roomMm: number): readonly { value: number; at: number }[] {
  const groups: { readonly values: readonly number[]; readonly middle: number }[] = [];
  for (const value of values) {
    let group = { values: [value], middle: value };
    for (let last = groups.at(-1); last !== undefined; last = groups.at(-1)) {
      const reach = ((last.values.length + group.values.length) / 2) * roomMm;
      if (group.middle - last.middle >= reach) break;
      groups.pop();
      const both = [...last.values, ...group.values];
      group = { values: both, middle: both.reduce((sum, one) => sum + one, 0) / both.length };
    }
    groups.push(group);
  }
  return groups.flatMap(({ values: own, middle }) =>
    own.map((value, i) => ({ value, at: middle + (i - (own.length - 1) / 2) * roomMm })),
  );
}
