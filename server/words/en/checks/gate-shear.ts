import type { Finding } from '../../../engineering/finding.js';
import { numberText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { mm } from './cure-text.js';
import { figure } from './figures.js';

function rate(perS: number): string {
  return `${numberText(Math.round(perS / 100) * 100, 0)} 1/s`;
}

function gateText(finding: Finding): string {
  const section = `${mm(figure(finding, 'widthMm'))} by ${mm(figure(finding, 'depthMm'))}`;
  const flow = quantityText(figure(finding, 'flowCm3PerS'), 'cm³/s');
  return `the way into cavity ${figure(finding, 'cavity')}, ${section}, passes ${flow} when the plate fills in ${numberText(figure(finding, 'fillS'))} s`;
}

export const gateShearWords = {
  name: 'Gate shear',
  group: 'Melt',
  line: (finding) => {
    if (finding.figure === null) return 'no way in';
    if (finding.situation === 'uneven')
      return `gates ${numberText(finding.figure)} to 1, at most ${numberText(Number(finding.limit), 0)}`;
    return `${rate(finding.figure)}, at most ${rate(Number(finding.limit))}`;
  },
  past: ({ situation }) => (situation === 'uneven' ? 'too uneven' : 'too fast'),
  summary: {
    within: (finding) =>
      `The melt is sheared hardest where ${gateText(finding)}: ${rate(finding.figure ?? 0)} at the wall, which ${finding.figures.polymer} bears.`,
    torn: (finding) =>
      `Where ${gateText(finding)}, the melt is sheared at ${rate(finding.figure ?? 0)}. ${finding.figures.polymer} bears about ${rate(Number(finding.limit))}; beyond it long molecules tear and the part is weak, burnt or streaked at the gate.`,
    uneven: (finding) =>
      `For what they fill, the gates of cavity ${figure(finding, 'firstCavity')} let ${numberText(finding.figure ?? 0)} times as much through as those of cavity ${figure(finding, 'lastCavity')}. Cavity ${figure(finding, 'firstCavity')} is full first and is packed hard while cavity ${figure(finding, 'lastCavity')} comes out short.`,
    'no-way-in': () => 'No gate leads from the feed to a cavity, so there is nothing to judge.',
  },
  advice: {
    uneven: (finding) =>
      `Cut the gates alike for alike cavities. To mend it on the mill, deepen the gate of cavity ${figure(finding, 'lastCavity')} in small steps: what it lets through grows with the cube of its depth.`,
    torn: () => 'Guides differ by a factor of two: start slow, and speed up while the parts stay sound.',
  },
  cures: {
    'deeper-gate': (cure) => ({
      what: `Gate ${mm(cure.amount)} deep instead of ${mm(Number(cure.figures.depthMm))}`,
      also: 'It takes longer to freeze and leaves a larger mark.',
    }),
    'wider-gate': (cure) => ({
      what: `Gate ${mm(cure.amount)} wide and ${mm(Number(cure.figures.toDepthMm))} deep, as deep as what it joins`,
      also: 'It takes longer to freeze and leaves a larger mark.',
    }),
    'slower-fill': (cure) => ({
      what: `Fill in ${numberText(cure.amount)} s or more`,
      also: 'A thin wall may freeze before it is full: see filling pressure.',
    }),
  },
} satisfies CheckWords;
