import type { Finding } from '../engineering/finding.js';
import { arrow } from './dimension.js';
import { hatch } from './hatch.js';
import type { SafeHtml } from './safe-html.js';
import { box, fixed, path, svg } from './svg.js';

type Judged = Pick<Finding, 'verdict' | 'figure' | 'limit' | 'margin'>;

const HEIGHT = 30;
const BAND = { top: 8, bottom: 22, middle: 15 };
/** Gauge arrows: 9 px long, 2.2 px half as wide. Letters of 9 / 0.62 px make them so. */
const ARROW_LETTERS = 14.5;
const ARROW_LENGTH = 9;
/** Shorter stretches are pointed at from outside. */
const SHORT = 24;
const HATCH_GAP = 6;

/**
 * A margin as a length from its limit: hatched is not allowed, right is always the allowed side. The limit stands
 * at 40 % of the width, so that margins can be read down one line, and at 90 % where something is missing. The whole
 * room is 100 % of the limit; what is longer is broken. Inside a range both limits show and the nearer is measured to;
 * outside it, the limit that is passed. Null without a figure, a limit or a margin. Silent: the
 * words stand beside it.
 */
export function gauge(finding: Judged, widthPx = 150): SafeHtml | null {
  const { limit, margin, figure } = finding;
  if (limit === null || margin === null || figure === null) return null;
  const { min, max } = typeof limit === 'number' ? { min: limit, max: null } : limit;
  const inRange = min !== null && max !== null && min <= figure && figure <= max && min < max;
  const drawn = inRange
    ? twoLimits(finding.verdict, figure, min, max, widthPx)
    : oneLimit(finding.verdict, margin, Math.abs(limitPassed(figure, min, max)), widthPx);
  return svg(
    { frame: { x: 0, y: 0, width: widthPx, height: HEIGHT }, className: 'ps-gauge', label: null },
    drawn,
  );
}

function oneLimit(verdict: Judged['verdict'], margin: number, limit: number, width: number): string {
  const missing = margin < 0;
  const at = width * (missing ? 0.9 : 0.4);
  const room = missing ? at : width - at - 2;
  const share = limit === 0 ? Number.POSITIVE_INFINITY : Math.abs(margin) / limit;
  const broken = share > 1;
  const length = room * Math.min(1, share);
  if (!missing) {
    return (
      path('ps-hatch', hatch(0, BAND.top, at, BAND.bottom, HATCH_GAP)) +
      limitLine(at) +
      stretch(at, at + length, toneOf(verdict, false), broken, 'right')
    );
  }
  return (
    path('ps-hatch', hatch(0, BAND.top, at - length, BAND.bottom, HATCH_GAP)) +
    missingBlock(at - length, at, verdict, broken) +
    limitLine(at)
  );
}

/** The one limit a figure is measured from when it has only one, or lies outside its range. */
function limitPassed(figure: number, min: number | null, max: number | null): number {
  if (min === null) return max ?? 0;
  return max !== null && figure > max ? max : min;
}

/** Two limits with hatch on both outsides, and the dimension from the figure to the nearer one. */
function twoLimits(
  verdict: Judged['verdict'],
  figure: number,
  min: number,
  max: number,
  width: number,
): string {
  const low = width * 0.25;
  const high = width * 0.77;
  const at = low + ((high - low) * (figure - min)) / (max - min);
  const tone = toneOf(verdict, false);
  return (
    path(
      'ps-hatch',
      hatch(0, BAND.top, low, BAND.bottom, HATCH_GAP) + hatch(high, BAND.top, width, BAND.bottom, HATCH_GAP),
    ) +
    (figure - min < max - figure
      ? stretch(low, at, tone, false, 'right')
      : stretch(at, high, tone, false, 'left')) +
    limitLine(low) +
    limitLine(high)
  );
}

function limitLine(x: number): string {
  return path('ps-limit', `M${fixed(x)} ${BAND.top - 3}V${BAND.bottom + 3}`);
}

/** What is missing: solid for a stop, washed with a dimension line for a caution. */
function missingBlock(from: number, to: number, verdict: Judged['verdict'], broken: boolean): string {
  if (verdict === 'stop')
    return (
      box('ps-gap', from, BAND.top, to, BAND.bottom) +
      (to - from > SHORT ? stretch(from, to, 'on-stop', broken, null) : '')
    );
  return (
    box('ps-caution-block', from, BAND.top, to, BAND.bottom) +
    stretch(from, to, toneOf(verdict, true), broken, 'left')
  );
}

function toneOf(verdict: Judged['verdict'], missing: boolean): string {
  return missing && verdict === 'caution' ? 'caution' : 'ink';
}

/** A dimension line between two stations, its far end marked on the side `end`; short ones point in from outside. */
function stretch(
  from: number,
  to: number,
  tone: string,
  broken: boolean,
  end: 'left' | 'right' | null,
): string {
  const y = BAND.middle;
  const far = end === 'left' ? from : to;
  const mark = end === null || broken ? '' : `M${fixed(far)} ${BAND.top}V${BAND.bottom}`;
  if (to - from < SHORT) {
    const out = end === 'left' ? -1 : 1;
    const tail = far + out * (ARROW_LENGTH + 8);
    return (
      path(`ps-dim ps-tone-${tone}`, `${mark}M${fixed(far)} ${y}H${fixed(tail)}`) +
      path(`ps-arrow ps-tone-${tone}`, arrow(far, y, -out, 0, ARROW_LETTERS))
    );
  }
  const middle = (from + to) / 2;
  const run = broken
    ? `M${fixed(from)} ${y}H${fixed(middle - 6)}l3 -6 6 12 3 -6H${fixed(to)}`
    : `M${fixed(from)} ${y}H${fixed(to)}`;
  return (
    path(`ps-dim ps-tone-${tone}`, mark + run) +
    path(`ps-arrow ps-tone-${tone}`, arrow(from, y, -1, 0, ARROW_LETTERS) + arrow(to, y, 1, 0, ARROW_LETTERS))
  );
}
