import type { Finding } from '../../../engineering/finding.js';
import { numberText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { figure } from './figures.js';

function minutes(value: number): string {
  return `${numberText(value, value < 10 ? 1 : 0)} min`;
}

function stayText(finding: Finding): string {
  const barrel = quantityText(figure(finding, 'barrelCm3'), 'cm³', 0);
  const shot = quantityText(figure(finding, 'meltCm3'), 'cm³');
  return `The barrel holds ${barrel}, a shot takes ${shot} every ${numberText(figure(finding, 'cycleS'), 0)} s: melt stays ${minutes(finding.figure ?? 0)} in it`;
}

function bornText(finding: Finding): string {
  return `${finding.figures.polymer} bears about ${minutes(figure(finding, 'limitMin'))} at ${figure(finding, 'meltC')} °C`;
}

const PURGE =
  'Lower the heats, run without pauses, and purge a few shots before the first good part and after every stop. Purge with the extraction on and nobody before the nozzle.';

export const residenceWords = {
  name: 'Stay in the barrel',
  group: 'Melt',
  line: (finding) =>
    finding.figures.limitBasis === 'sourced'
      ? `${minutes(finding.figure ?? 0)}, at most ${minutes(Number(finding.limit))}`
      : `${minutes(finding.figure ?? 0)}, about ${minutes(Number(finding.limit))} remembered`,
  past: () => 'too long',
  summary: {
    within: (finding) => `${stayText(finding)}. ${bornText(finding)}.`,
    near: (finding) =>
      `${stayText(finding)}, longer than is remembered: ${bornText(finding)}, a figure good to a factor of two. There is no room to spare: keep the heats low and the pauses short.`,
    'over-sourced': (finding) =>
      `${stayText(finding)}, longer than published: ${bornText(finding)}. It darkens, loses strength and gives off fumes.`,
    'too-long': (finding) =>
      `${stayText(finding)}, more than twice what is remembered: ${bornText(finding)}. It darkens, loses strength and gives off fumes.`,
    'breaks-down': (finding) =>
      `${stayText(finding)}. ${bornText(finding)}; held longer it breaks down by itself, faster and faster, with ${finding.figures.fumes} and pressure in the barrel.`,
  },
  advice: {
    'too-long': () => PURGE,
    'over-sourced': () => PURGE,
    'breaks-down': () =>
      'A pause is never the cure: at a stop back the screw off, lower the heats and purge at once, extraction on, nobody before the nozzle, out of the room when it smells. Keep to the machine\u2019s manual and the resin\u2019s safety data sheet.',
  },
  cures: {
    'larger-shot': (cure) => ({
      what: `A shot of ${quantityText(cure.amount, 'cm³')} instead of ${quantityText(Number(cure.figures.coldCm3), 'cm³')}, such as by more cavities`,
      also: 'The projected area, and with it the clamp force needed, grows.',
    }),
  },
} satisfies CheckWords;
