import type { Finding } from '../../../engineering/finding.js';
import { numberText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { mm } from './cure-text.js';
import { figure } from './figures.js';

function mpa(finding: Finding, name: string): string {
  return quantityText(figure(finding, name), 'MPa');
}

function partsText(finding: Finding): string {
  return `sprue ${mpa(finding, 'sprueMpa')}, runner ${mpa(finding, 'runnerMpa')}, gate ${mpa(finding, 'gateMpa')}, cavity ${mpa(finding, 'cavityMpa')}`;
}

function wayText(finding: Finding): string {
  return `to the end of cavity ${figure(finding, 'cavity')}, ${mm(figure(finding, 'lengthMm'))} from its gate and ${numberText(figure(finding, 'ratio'), 0)} times its wall`;
}

export const fillPressureWords = {
  name: 'Filling pressure',
  group: 'Melt',
  line: (finding) => {
    if (finding.figure === null) return 'not worked out';
    const unit = finding.unit === '' ? '' : ' MPa';
    return `${numberText(finding.figure, 0)}${unit}, at most ${numberText(Number(finding.limit), 0)}${unit}`;
  },
  past: (finding) => (finding.unit === '' ? 'too long for its wall' : 'too much'),
  summary: {
    within: (finding) =>
      `Pushing ${finding.figures.polymer} ${wayText(finding)} in ${numberText(figure(finding, 'fillS'))} s takes about ${mpa(finding, 'totalMpa')} (${partsText(finding)}), by a curve that is good to a factor of two.`,
    'top-of-band-over': (finding) =>
      `Pushing ${finding.figures.polymer} ${wayText(finding)} in ${numberText(figure(finding, 'fillS'))} s takes about ${mpa(finding, 'totalMpa')}, and up to ${mpa(finding, 'topMpa')} as the curve is good to a factor of two (${partsText(finding)}). The parts may come out short.`,
    over: (finding) =>
      `Pushing ${finding.figures.polymer} ${wayText(finding)} in ${numberText(figure(finding, 'fillS'))} s takes about ${mpa(finding, 'totalMpa')} (${partsText(finding)}), more than the press has: the parts come out short.`,
    'freezes-off': (finding) =>
      `${finding.figures.polymer} freezes across the wall of cavity ${figure(finding, 'cavity')} before it is full in ${numberText(figure(finding, 'fillS'))} s.`,
    'short-for-its-wall': (finding) =>
      `No flow curve of ${finding.figures.polymer} can be trusted. By length over wall: ${numberText(figure(finding, 'ratio'), 0)} in cavity ${figure(finding, 'cavity')}; ${numberText(figure(finding, 'ratioMaxMin'), 0)} to ${numberText(figure(finding, 'ratioMaxMax'), 0)} are reached.`,
    'long-for-its-wall': (finding) =>
      `No flow curve of ${finding.figures.polymer} can be trusted. By length over wall cavity ${figure(finding, 'cavity')} asks for ${numberText(figure(finding, 'ratio'), 0)}; ${numberText(figure(finding, 'ratioMaxMin'), 0)} to ${numberText(figure(finding, 'ratioMaxMax'), 0)} are reached. The parts may come out short.`,
    'no-way-in': () => 'No way leads from the feed to a cavity, so there is nothing to push.',
  },
  advice: {
    'top-of-band-over': () =>
      'A second gate, a thicker wall or a thicker runner takes pressure off; the trial tells.',
    over: () =>
      'Gate it nearer to the far end, add a gate, or make wall, gate and runner thicker: by how much the trial tells.',
    'freezes-off': () => 'Fill faster, warm the plate, or make the wall thicker.',
    'long-for-its-wall': () => 'A second gate or a thicker wall; the trial tells.',
  },
  cures: {
    'slower-fill': (cure) => ({
      what: `Fill in ${numberText(cure.amount)} s instead of ${numberText(Number(cure.figures.fillS))} s: about ${quantityText(Number(cure.figures.mpa), 'MPa')}`,
      also: 'The curve is good to a factor of two: parts may still come out short, and a slow front leaves marks.',
    }),
  },
} satisfies CheckWords;
