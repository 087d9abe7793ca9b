import type { Finding } from '../../../engineering/finding.js';
import type { CheckWords } from './check-words.js';
import { mm } from './cure-text.js';
import { figure } from './figures.js';

function sumText(finding: Finding): string {
  const part = finding.figures.partHeightFrom === 'given' ? 'part height' : 'deepest cavity';
  return `twice the ${part} of ${mm(figure(finding, 'partHeightMm'))}, ${mm(figure(finding, 'sprueMm'))} of sprue and ${mm(figure(finding, 'handClearanceMm'))} for hands`;
}

function strokeText(finding: Finding): string {
  const thickerMm = figure(finding, 'thickerMm');
  const isLess = finding.figures.clamp === 'hydraulic' && thickerMm > 0;
  const why = isLess ? `, since this stack is ${mm(thickerMm)} thicker than the thinnest` : '';
  return `The press opens ${mm(figure(finding, 'strokeMm'))}${why}`;
}

export const openingStrokeWords = {
  name: 'Opening stroke',
  group: 'Fit',
  line: (finding) => `${mm(finding.figure ?? 0)} needed, at most ${mm(figure(finding, 'strokeMm'))}`,
  past: () => 'too much',
  summary: {
    opens: (finding) =>
      `${strokeText(finding)}. Taking parts out needs ${mm(figure(finding, 'neededMm'))}: ${sumText(finding)}.`,
    'hand-caught': (finding) =>
      `${strokeText(finding)}. Taking parts out needs ${mm(figure(finding, 'neededMm'))}: ${sumText(finding)}. The part would come free, but with too little room for hands: a pinch hazard.`,
    'part-caught': (finding) =>
      `${strokeText(finding)}. Taking parts out needs ${mm(figure(finding, 'neededMm'))}: ${sumText(finding)}. Part and sprue would be caught between the faces.`,
  },
  advice: {
    'hand-caught': () => 'Never reach between the faces with the guard overridden; keep to the press manual.',
    'part-caught': () => 'Never reach between the faces with the guard overridden; keep to the press manual.',
  },
  cures: {
    'thinner-packer': (cure) => ({
      what: cure.amount === 0 ? 'Leave out the packer' : `Packer of ${mm(cure.amount)}`,
      also: 'The screws then go deeper by as much: see screw engagement.',
    }),
    'thinner-facing': (cure) => ({
      what: cure.amount === 0 ? 'Leave out the facing plate' : `Facing plate of ${mm(cure.amount)}`,
      also: 'The sprue gets shorter too.',
    }),
    'lower-part': (cure) => ({ what: `A part that is ${mm(cure.amount)} lower`, also: null }),
  },
} satisfies CheckWords;
