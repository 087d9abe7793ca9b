import { horizontalDimension } from './dimension.js';
import { hatch } from './hatch.js';
import type { SafeHtml } from './safe-html.js';
import { box, path, svg, text } from './svg.js';

export interface DaylightSectionInput {
  readonly packerThicknessMm: number;
  readonly plateThicknessMm: number;
  readonly facingThicknessMm: number;
  readonly minimumDaylightMm: number;
  readonly label: string;
  readonly words: {
    /** "12.0 min" */
    readonly least: string;
    /** "2.0 gap" */
    readonly gap: (lengthMm: number) => string;
    readonly plate: string;
    readonly length: (lengthMm: number) => string;
  };
}

const LETTERS = 12.5;
const HALF = 44;
const TOP = 54;
const BOTTOM = 170;

/** Why a thin stack is never clamped: the bolster's halves stop at the least daylight and leave a gap. */
export function daylightSection(input: DaylightSectionInput): SafeHtml {
  const { packerThicknessMm, plateThicknessMm, facingThicknessMm, minimumDaylightMm, words } = input;
  const stackMm = packerThicknessMm + plateThicknessMm + facingThicknessMm;
  const scale = 92 / Math.max(minimumDaylightMm, stackMm);
  const packer = packerThicknessMm * scale;
  const plate = packer + plateThicknessMm * scale;
  const stack = stackMm * scale;
  const least = minimumDaylightMm * scale;
  const fixedHalf = Math.max(stack, least);
  const plateTop = TOP + 14;
  const gapMm = minimumDaylightMm - stackMm;
  return svg(
    {
      frame: { x: -HALF - 4, y: 0, width: fixedHalf + 2 * HALF + 40, height: BOTTOM + 4 },
      className: 'ps-picture ps-section-picture',
      label: input.label,
      letterHeight: LETTERS,
    },
    box('ps-half', -HALF, TOP, 0, BOTTOM) +
      path('ps-hatch', hatch(-HALF, TOP, 0, BOTTOM, 9)) +
      (packer > 0 ? box('ps-packer', 0, plateTop, packer, BOTTOM) : '') +
      box('ps-plate', packer, plateTop, plate, BOTTOM) +
      path('ps-hatch', hatch(packer, plateTop, plate, BOTTOM, 6, false)) +
      (facingThicknessMm > 0 ? box('ps-packer', plate, plateTop, stack, BOTTOM) : '') +
      (gapMm > 0 ? box('ps-gap', stack, TOP, least, BOTTOM) : '') +
      box('ps-half', fixedHalf, TOP, fixedHalf + HALF, BOTTOM) +
      path('ps-hatch', hatch(fixedHalf, TOP, fixedHalf + HALF, BOTTOM, 9)) +
      box('ps-label-ground', (packer + plate) / 2 - 17, 104, (packer + plate) / 2 + 17, 136) +
      text('ps-dim-text', (packer + plate) / 2, 118, words.plate) +
      text('ps-dim-text', (packer + plate) / 2, 132, words.length(plateThicknessMm)) +
      horizontalDimension(0, least, 18, TOP, words.least, { letterHeight: LETTERS }) +
      (gapMm > 0
        ? horizontalDimension(stack, least, 38, TOP, words.gap(gapMm), {
            letterHeight: LETTERS,
            tone: 'stop',
          })
        : ''),
  );
}
