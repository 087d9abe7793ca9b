import type { Finding } from '../../../engineering/finding.js';
import { numberText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { mm, screwsAfter } from './cure-text.js';
import { figure, placedNote } from './figures.js';

function overText(finding: Finding): string {
  const what = finding.figures.kind === 'tapped-hole' ? 'a tapped hole' : 'an opening';
  const size = finding.figures.shape === 'disc' ? 'of' : 'that is';
  const wide = finding.figures.shape === 'disc' ? '' : ' wide';
  return `over ${what} ${size} ${mm(figure(finding, 'spanMm'))}${wide} in the bolster’s face`;
}

function floorText(finding: Finding): string {
  const packerMm = figure(finding, 'packerMm');
  const packer = packerMm > 0 ? `, with ${mm(packerMm)} of packer under it,` : '';
  return `The floor of ${mm(figure(finding, 'floorMm'))} ${overText(finding)}${packer}`;
}

function givesText(finding: Finding): string {
  const givesMm = figure(finding, 'deflectionMm');
  return givesMm < 0.0005 ? 'less than a thousandth of a millimetre' : mm(givesMm);
}

function pressedText(finding: Finding): string {
  return `at ${numberText(figure(finding, 'pressureMpa'), 0)} MPa in the cavity`;
}

export const plateFloorWords: CheckWords = {
  name: 'Floor over openings',
  group: 'Force',
  line: (finding) => {
    switch (finding.situation) {
      case 'backed':
        return 'backed all over';
      case 'no-floor':
        return 'no floor left';
      case 'gives':
        return `gives ${mm(finding.figure ?? 0)}, at most ${mm(figure(finding, 'givesMostMm'))}`;
      default:
        return `${quantityText(finding.figure ?? 0, 'MPa')}, at most ${quantityText(figure(finding, 'allowableMpa'), 'MPa')}`;
    }
  },
  past: ({ situation }) => (situation === 'no-floor' ? 'too deep' : 'too much'),
  summary: {
    backed: () => 'No melt lies over an opening or a tapped hole: the bolster’s face backs the plate.',
    holds: (finding) =>
      `${floorText(finding)} bends with ${quantityText(figure(finding, 'stressMpa'), 'MPa')} ${pressedText(finding)} and gives ${givesText(finding)}: it holds.`,
    'no-floor': (finding) =>
      `The cut of ${mm(figure(finding, 'depthMm'))} goes through the plate ${overText(finding)}: melt would run into the bolster.`,
    yields: (finding) =>
      `${floorText(finding)} would bend for good: ${quantityText(figure(finding, 'middleStressMpa'), 'MPa')} in the middle of the pressure band, more than the metal’s proof stress of ${quantityText(figure(finding, 'proofMpa'), 'MPa')}.`,
    weak: (finding) =>
      `${floorText(finding)} bends with ${quantityText(figure(finding, 'stressMpa'), 'MPa')} ${pressedText(finding)}, more than half the metal’s proof stress: with every shot it bends anew, and may crack.`,
    gives: (finding) =>
      `${floorText(finding)} gives ${mm(figure(finding, 'deflectionMm'))} ${pressedText(finding)}: the part comes out thicker there, and the floor pinches it when the pressure goes.`,
  },
  advice: {
    holds: placedNote,
    weak: placedNote,
    gives: placedNote,
    yields: placedNote,
  },
  cures: {
    'thicker-stock': (cure) => ({ what: `Plate from stock of ${mm(cure.amount)}`, also: screwsAfter(cure) }),
  },
};
