import type { Finding } from '../../../engineering/finding.js';
import { numberText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { mm, screwsAfter } from './cure-text.js';
import { figure } from './figures.js';

function stackText(finding: Finding): string {
  const parts = [
    `plate ${mm(figure(finding, 'thicknessMm'))}`,
    ...part('facing plate', figure(finding, 'facingThicknessMm')),
    ...part('packer', figure(finding, 'packerThicknessMm')),
  ];
  return parts.length === 1 ? 'the plate alone' : parts.join(', ');
}

function part(name: string, thicknessMm: number): readonly string[] {
  return thicknessMm > 0 ? [`${name} ${mm(thicknessMm)}`] : [];
}

function hundredths(lengthMm: number): string {
  return `${numberText(lengthMm, 2)} mm`;
}

const CLOSE_ON_STACK = 'Set the mould height for this stack, with the press in hand mode and low force.';

export const daylightWords = {
  name: 'Daylight',
  group: 'Fit',
  line: (finding) =>
    finding.situation === 'above-largest'
      ? `${mm(finding.figure ?? 0)}, at most ${mm(figure(finding, 'largestStackMm'))}`
      : `${mm(finding.figure ?? 0)}, at least ${mm(figure(finding, 'minimumDaylightMm'))}`,
  past: ({ situation }) => (situation === 'above-largest' ? 'too thick' : 'too thin'),
  summary: {
    closes: (finding) =>
      `The faces close on the stack: ${mm(finding.figure ?? 0)} (${stackText(finding)}), between ${mm(figure(finding, 'minimumDaylightMm'))} and ${mm(figure(finding, 'largestStackMm'))}.`,
    'near-minimum': (finding) =>
      `The stack of ${hundredths(finding.figure ?? 0)} (${stackText(finding)}) lies within ${mm(figure(finding, 'bandMm'))} of the minimum daylight of ${hundredths(figure(finding, 'minimumDaylightMm'))}. Stock, facing cuts and a worn bolster face can be off by as much: then the faces stop before they reach the plate, and hot melt sprays out.`,
    'below-minimum': (finding) =>
      `The bolster faces stop ${mm(figure(finding, 'gapMm'))} before they reach the plate (${stackText(finding)}). It is never clamped, and hot melt sprays out of the gap: a burn hazard for everybody near the press.`,
    'above-largest': (finding) =>
      `The stack is ${mm(finding.figure ?? 0)} (${stackText(finding)}), more than the ${mm(figure(finding, 'largestStackMm'))} the bolster takes: the press cannot close on it as it is set up.`,
  },
  advice: {
    closes: () => CLOSE_ON_STACK,
    'near-minimum': () =>
      'Measure the whole stack at its four corners, and the bolster’s minimum, before it is used.',
  },
  cures: {
    'add-packer': (cure) => ({
      what: 'Packer behind the insert plate',
      also: leavesSprue(screwsAfter(cure)),
    }),
    'thicker-stock': (cure) => ({ what: `Plate from stock of ${mm(cure.amount)}`, also: screwsAfter(cure) }),
    'thinner-packer': (cure) => ({
      what: cure.amount === 0 ? 'Leave out the packer' : `Packer of ${mm(cure.amount)}`,
      also: screwsAfter(cure),
    }),
    'thinner-facing': (cure) => ({
      what: cure.amount === 0 ? 'Leave out the facing plate' : `Facing plate of ${mm(cure.amount)}`,
      also: 'A thinner facing plate makes the sprue shorter.',
    }),
    'thinner-stock': (cure) => ({ what: `Plate of ${mm(cure.amount)}`, also: screwsAfter(cure) }),
  },
} satisfies CheckWords;

function leavesSprue(screws: string | null): string {
  const sprue =
    'As large as the plate, flat and parallel, with the same screw holes through it. On the moving side it leaves the sprue alone; on the fixed side it would lengthen it.';
  return screws === null ? sprue : `${sprue} ${screws}`;
}
