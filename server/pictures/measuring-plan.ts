import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import { ringContains } from '../engineering/geometry/contains.js';
import type { Point } from '../engineering/geometry/point.js';
import { regionPath } from './region-path.js';
import type { SafeHtml } from './safe-html.js';
import { circle, line, path, svg, text } from './svg.js';

/** Letters as a share of the plate's larger side: about 13 px where it is shown 400 px wide. */
const LETTERS_PER_SIDE = 13 / 400;

/** How far from its corner a thickness is read, as a share of the plate's smaller side. */
const CORNER_INSET = 0.06;

/**
 * The plate seen on its face as it is drawn, for the bench: four crosses where its thickness is read, numbered in the
 * order of the readings from the top left on, clockwise, and its bolt holes by their numbers. One unit a millimetre.
 */
export function measuringPlan(drawing: MeasuredDrawing, label: string): SafeHtml {
  const { min, max, outline, openings } = drawing.plate;
  const width = max.x - min.x;
  const height = max.y - min.y;
  const h = Math.max(width, height) * LETTERS_PER_SIDE;
  const place = ({ x, y }: Point): Point => ({ x: x - min.x, y: max.y - y });
  const frame = { x: -h, y: -h, width: width + 2 * h, height: height + 2 * h };
  const feed = place(drawing.feed.at);
  return svg(
    { frame, className: 'ps-picture ps-measuring', label, letterHeight: h },
    path('ps-plate', regionPath([outline, ...openings], place)) +
      path('ps-thin', regionPath(drawing.projected.region, place)) +
      circle('ps-thin', feed.x, feed.y, drawing.feed.diameterMm / 2) +
      drawing.bolts
        .map(({ at, diameterMm }, i) => {
          const { x, y } = place(at);
          const sink = drawing.sinks.find(({ bolt }) => bolt === i);
          const rim = sink === undefined ? '' : circle('ps-bolt', x, y, sink.diameterMm / 2);
          const reach = (sink?.diameterMm ?? diameterMm) / 2 + 0.4 * h;
          const right = x < width / 2;
          const number = text(
            'ps-dim-text',
            x + (right ? reach : -reach),
            y + 0.36 * h,
            String(i + 1),
            right ? 'start' : 'end',
          );
          return rim + circle('ps-bolt', x, y, diameterMm / 2) + number;
        })
        .join('') +
      corners(drawing)
        .map(place)
        .map(({ x, y }) => cross(x, y, h))
        .join(''),
  );
}

/** Where the four readings are taken: near the corners of the outline's box, pulled in until they lie on the plate. */
function corners({ plate }: MeasuredDrawing): readonly Point[] {
  const { min, max, outline } = plate;
  const middle = { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 };
  const insetMm = CORNER_INSET * Math.min(max.x - min.x, max.y - min.y);
  const boxed: readonly Point[] = [
    { x: min.x + insetMm, y: max.y - insetMm },
    { x: max.x - insetMm, y: max.y - insetMm },
    { x: max.x - insetMm, y: min.y + insetMm },
    { x: min.x + insetMm, y: min.y + insetMm },
  ];
  const steps = [0, 0.1, 0.2, 0.3, 0.4, 0.5];
  return boxed.map((corner) => {
    const towards = (share: number): Point => ({
      x: corner.x + (middle.x - corner.x) * share,
      y: corner.y + (middle.y - corner.y) * share,
    });
    return steps.map(towards).find((point) => ringContains(outline, point)) ?? corner;
  });
}

function cross(x: number, y: number, h: number): string {
  return line('ps-thin', x - 0.6 * h, y, x + 0.6 * h, y) + line('ps-thin', x, y - 0.6 * h, x, y + 0.6 * h);
}
