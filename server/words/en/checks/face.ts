import type { Cure, Finding } from '../../../engineering/finding.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, mm } from './cure-text.js';
import { figure } from './figures.js';

const SIDES = [
  ['Right', 'right', 'on the right'],
  ['Top', 'top', 'at the top'],
  ['Left', 'left', 'on the left'],
  ['Bottom', 'bottom', 'at the bottom'],
] as const;

function overText(finding: Finding): string {
  return SIDES.flatMap(([side, , where]) => {
    const overMm = figure(finding, `over${side}Mm`);
    return overMm > 0.05 ? [`${mm(overMm)} ${where}`] : [];
  }).join(', ');
}

function trimText(cure: Cure): string {
  return SIDES.flatMap(([, side, where]) => {
    const offMm = cureFigure(cure, `${side}Mm`);
    return offMm > 0 ? [`${mm(offMm)} ${where}`] : [];
  }).join(', ');
}

export const faceWords = {
  name: 'Face',
  group: 'Fit',
  line: (finding) => {
    const insideMm = finding.figure ?? 0;
    if (finding.situation === 'seen-from-back') return 'drawn from the back';
    const what = finding.situation === 'hits-tie-bars' ? 'tie bars' : 'face';
    return insideMm < 0
      ? `${mm(-insideMm)} over the ${what}`
      : `nearest edge ${mm(insideMm)} inside the ${what}`;
  },
  past: () => 'over',
  summary: {
    inside: (finding) =>
      `The plate, ${mm(figure(finding, 'plateWidthMm'))} by ${mm(figure(finding, 'plateHeightMm'))} as drawn, lies on the bolster’s face of ${mm(figure(finding, 'faceWidthMm'))} by ${mm(figure(finding, 'faceHeightMm'))}.`,
    overhangs: (finding) =>
      `The plate stands over the bolster’s face, seen on the face: ${overText(finding)}. Nothing backs it there, and it would bend open under pressure.`,
    'hits-tie-bars': (finding) =>
      `The plate does not pass between the tie bars, ${mm(figure(finding, 'tieBarsWidthMm'))} by ${mm(figure(finding, 'tieBarsHeightMm'))}; seen on the face it is over by ${overText(finding)}.`,
    'seen-from-back': () =>
      'Only the mirror image of this drawing goes on the bolster: it seems to be drawn looking at the back of the plate. Cut as it is, it could not be mounted.',
  },
  advice: {
    'seen-from-back': () =>
      'Draw the parting face, the face with the cavity in it. Mirroring turns lettering round as well: check that it reads the right way on the part.',
  },
  cures: {
    'trim-plate': (cure) => ({
      what: `Take off ${trimText(cure)}`,
      also: 'Sides as the plate lies on the bolster. Mind the metal left beside holes and cavities.',
    }),
    'mirror-drawing': () => ({ what: 'Mirror the drawing left to right', also: null }),
  },
} satisfies CheckWords;
