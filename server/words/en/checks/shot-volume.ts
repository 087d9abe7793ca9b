import type { Finding } from '../../../engineering/finding.js';
import { numberText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { mm } from './cure-text.js';
import { figure } from './figures.js';

function cm3(finding: Finding, name: string): string {
  return quantityText(figure(finding, name), 'cm³');
}

function shotText(finding: Finding): string {
  return `Plate and sprue hold ${cm3(finding, 'coldCm3')} (${quantityText(figure(finding, 'massG'), 'g')}), which is ${cm3(finding, 'meltCm3')} of ${finding.figures.polymer} as melt: ${mm(figure(finding, 'wayMm'))} of a ${mm(figure(finding, 'screwDiameterMm'))} screw`;
}

export const shotVolumeWords = {
  name: 'Shot volume',
  group: 'Melt',
  line: (finding) =>
    `screw moves ${mm(finding.figure ?? 0)}, ${finding.allowed === 'at-least' ? 'at least' : 'at most'} ${mm(Number(finding.limit))}`,
  past: (finding) => (finding.allowed === 'at-least' ? 'too little' : 'too much'),
  summary: {
    'in-range': (finding) =>
      `${shotText(finding)}, ${numberText(figure(finding, 'diameters'), 2)} of its diameter.`,
    'short-stroke': (finding) =>
      `${shotText(finding)}, only ${numberText(figure(finding, 'diameters'), 2)} of its diameter. So short a way is hard to meter: one shot comes out fuller than the next.`,
    'near-the-end': (finding) =>
      `${shotText(finding)}, of ${mm(figure(finding, 'longestMm'))} it has. Too little is left for a cushion and for hold.`,
    'beyond-press': (finding) =>
      `${shotText(finding)}. The press moves its screw ${mm(figure(finding, 'longestMm'))} (${cm3(finding, 'shotCm3')}): every shot would be short.`,
  },
  advice: {
    'short-stroke': () =>
      'Small plates on a large barrel are usual here: set a higher back pressure and a slower screw, weigh ten shots, and sort out what differs.',
    'near-the-end': () => 'Leave out a cavity, or make runner and sprue smaller.',
    'beyond-press': () => 'Leave out a cavity, or make the parts thinner.',
  },
  cures: {
    'more-in-a-shot': (cure) => ({
      what: `${quantityText(cure.amount, 'cm³')} more in a shot, such as a further cavity`,
      also: 'The projected area, and with it the clamp force needed, grows.',
    }),
  },
} satisfies CheckWords;
