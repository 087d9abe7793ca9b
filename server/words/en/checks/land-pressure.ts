import type { Finding } from '../../../engineering/finding.js';
import { numberText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { figure, kilonewtons } from './figures.js';

const SOFTEST: { readonly [name: string]: string } = {
  plate: 'the plate',
  facing: 'the facing plate',
  'bolster-face': 'the bolster’s face',
};

function limitText(finding: Finding): string {
  const softest = SOFTEST[String(finding.figures.softest)] ?? 'the softer face';
  return `${numberText(figure(finding, 'allowableMpa'), 0)} MPa on ${softest}`;
}

function landText(finding: Finding): string {
  return `${numberText(figure(finding, 'landMm2') / 100)} cm² of land`;
}

function windowText(finding: Finding): string {
  return `between ${kilonewtons(finding, 'windowMinKn')} and ${kilonewtons(finding, 'windowMaxKn')}`;
}

function lineOf(finding: Finding): string {
  switch (finding.situation) {
    case 'no-land':
      return 'no flat metal round the cavity';
    case 'window':
    case 'narrow-when-tilting':
      return `set ${numberText(figure(finding, 'windowMinKn'), 0)} to ${kilonewtons(finding, 'windowMaxKn')}`;
    default:
      return `${quantityText(finding.figure ?? 0, 'kN')} at most, ${kilonewtons(finding, 'neededKn')} needed`;
  }
}

export const landPressureWords: CheckWords = {
  name: 'Pressure on the land',
  group: 'Force',
  line: lineOf,
  past: () => 'short',
  summary: {
    window: (finding) =>
      `Clamp ${windowText(finding)}. ${landText(finding)} carries ${quantityText(finding.figure ?? 0, 'kN')} at ${limitText(finding)}.`,
    'narrow-when-tilting': (finding) =>
      `Clamp ${windowText(finding)} with guided platens. If the platens can tilt, the near side of the land passes ${limitText(finding)} from ${quantityText(finding.figure ?? 0, 'kN')}, before the far side closes at ${kilonewtons(finding, 'neededKn')}.`,
    'empty-unguided': (finding) =>
      `The platens of this press are not guided: when they tilt, the near side of the land passes ${limitText(finding)} from ${quantityText(finding.figure ?? 0, 'kN')}, before the far side closes at ${kilonewtons(finding, 'neededKn')}. No setting does both.`,
    'no-land': () => 'No flat metal is left that could carry the clamp force.',
    'window-empty': (finding) =>
      `${landText(finding)} carries ${quantityText(finding.figure ?? 0, 'kN')} at ${limitText(finding)}, less than the ${kilonewtons(finding, 'neededKn')} needed: the land may be marked or sink in.`,
    'beyond-press': (finding) =>
      `No setting is left: ${kilonewtons(finding, 'neededKn')} are needed and the press gives ${kilonewtons(finding, 'settableMaxKn')} at most.`,
    'face-over': (finding) =>
      `${landText(finding)} carries ${quantityText(finding.figure ?? 0, 'kN')} at ${limitText(finding)}, less than the ${kilonewtons(finding, 'neededKn')} that must be set: the bolster’s face would be damaged.`,
    crushed: (finding) =>
      `At the ${kilonewtons(finding, 'neededKn')} that must be set, the pressure on ${landText(finding)} passes the proof stress of the metal (${numberText(figure(finding, 'proofMpa'), 0)} MPa): the plate would be crushed.`,
  },
  advice: {
    window: (finding) =>
      figure(finding, 'windowMaxKn') < figure(finding, 'settableMaxKn')
        ? `Never set more than ${kilonewtons(finding, 'windowMaxKn')}: the press can give more than this plate bears.`
        : null,
    'narrow-when-tilting': (finding) =>
      `Never set more than ${kilonewtons(finding, 'windowMaxKn')}, and look for marks on the near side after the trial.`,
  },
  cures: {
    'clamp-between': (cure) => ({
      what: `Clamp between ${quantityText(Number(cure.figures.windowMinKn), 'kN')} and ${quantityText(Number(cure.figures.windowMaxKn), 'kN')}`,
      also: null,
    }),
    'less-area': (cure) => ({
      what: `Take ${numberText(cure.amount)} cm² off the projected area`,
      also: `The press holds ${numberText(Number(cure.figures.areaMaxMm2) / 100)} cm² at the top of the band.`,
    }),
    'more-land': (cure) => ({
      what: `Give the plate ${numberText(cure.amount)} cm² more flat land`,
      also: 'A larger outline or fewer pockets; pads as high as the stack count too.',
    }),
    'harder-alloy': (cure) => ({
      what: `Mill it from ${cure.figures.alloy}`,
      also: `It bears ${quantityText(cure.amount, 'MPa')} on its land.`,
    }),
  },
};
