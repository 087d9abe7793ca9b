import type { Finding } from '../../../engineering/finding.js';
import { numberText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { figureList, mm } from './cure-text.js';
import { figure } from './figures.js';

/** More sizes than these are not all said. */
const SAID_SIZES = 3;

function bandText(finding: Finding): string {
  const [min, max] = [figure(finding, 'minPercent'), figure(finding, 'maxPercent')];
  return min === max ? `${numberText(min)} %` : `${numberText(min)} to ${numberText(max)} %`;
}

function sizesText(finding: Finding): string {
  const lengths = figureList(finding.figures, 'partLengthMm');
  const sizes = lengths.slice(0, SAID_SIZES).map((_, index) => sizeText(finding, index));
  const more = lengths.length - sizes.length;
  return `${sizes.join('; ')}${more > 0 ? `; and ${more} more ${more === 1 ? 'size' : 'sizes'}` : ''}`;
}

function sizeText(finding: Finding, index: number): string {
  const cut = ['partLengthMm', 'partWidthMm', 'partDepthMm'].map(
    (name) => figureList(finding.figures, name)[index] ?? 0,
  );
  const [least, most] = [figure(finding, 'scaleMax'), figure(finding, 'scaleMin')];
  const out = cut.map((sizeMm) => `${numberText(sizeMm / least, 2)} to ${numberText(sizeMm / most, 2)}`);
  return `cut ${cut.map((sizeMm) => numberText(sizeMm)).join(' × ')} mm, out ${out.join(' × ')} mm`;
}

function ratioText(finding: Finding): string {
  return `${mm(figure(finding, 'thickMm'))} beside ${mm(figure(finding, 'thinMm'))}`;
}

function scaleText(finding: Finding): string | null {
  if (finding.figures.scale === undefined) return null;
  return `For parts of the wanted size draw the plate ${numberText(figure(finding, 'scale'), 4)} times as large (${numberText(figure(finding, 'scaleMin'), 4)} to ${numberText(figure(finding, 'scaleMax'), 4)}), vents and gates left as they are. Longest and widest are measured by the narrowest box round the part.`;
}

export const shrinkageWords: CheckWords = {
  name: 'Shrinkage',
  group: 'Part',
  line: (finding) =>
    finding.situation === 'not-known'
      ? 'not known'
      : `${bandText(finding)}; thick to thin ${numberText(finding.figure ?? 0)}`,
  past: () => 'too uneven',
  summary: {
    even: (finding) => `${finding.figures.polymer} shrinks by ${bandText(finding)}: ${sizesText(finding)}.`,
    'thick-beside-thin': (finding) =>
      `${ratioText(finding)} in one part: the thick place cools last, sinks in at its face and pulls the part crooked. ${finding.figures.polymer} shrinks by ${bandText(finding)}: ${sizesText(finding)}.`,
    'not-known': () => 'By how much this resin shrinks is not known: nobody has said it for the grade.',
  },
  advice: {
    even: scaleText,
    'thick-beside-thin': scaleText,
    'not-known': () => 'Ask for the grade’s data sheet, or measure the first good parts.',
  },
  cures: {
    'thin-down': (cure) => ({
      what: `Cut the thick place no thicker than ${mm(cure.amount)}`,
      also: 'A core from the other side, or a step between thick and thin, does as well.',
    }),
  },
};
