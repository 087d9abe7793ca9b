import type { Finding } from '../../../engineering/finding.js';
import { placeText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, figureList } from './cure-text.js';
import { figure } from './figures.js';

function cavitiesText(finding: Finding): string {
  const numbers = figureList(finding.figures, 'cavityNumbers');
  const last = numbers.at(-1);
  if (numbers.length < 2) return `Cavity ${last ?? ''} is`;
  return `Cavities ${numbers.slice(0, -1).join(', ')} and ${last} are`;
}

function everyText(count: number): string {
  return count === 2 ? 'both' : `all ${count}`;
}

function whereText({ places: [place] }: Finding): string {
  return place === undefined ? '' : `, the first with its middle at ${placeText(place.x, place.y)}`;
}

export const feedPathWords = {
  name: 'Way of the melt',
  group: 'Melt',
  line: (finding) =>
    `${figure(finding, 'fed')} of ${figure(finding, 'cavities')} cavities joined to the feed`,
  past: () => 'not joined',
  summary: {
    joined: (finding) =>
      figure(finding, 'cavities') === 1
        ? 'The cuts lead from the feed to the cavity without a break.'
        : `The cuts lead from the feed to ${everyText(figure(finding, 'cavities'))} cavities without a break.`,
    'not-joined': (finding) =>
      `${cavitiesText(finding)} not joined to the feed${whereText(finding)}: no melt gets there, and the shot goes into the rest.`,
  },
  advice: {
    joined: () => 'Whether the way is wide enough for the melt is not judged here.',
  },
  cures: {
    'join-cuts': (cure) => ({
      what: 'Lead a runner or gate across the gap',
      also: `From ${placeText(cureFigure(cure, 'fromXMm'), cureFigure(cure, 'fromYMm'))} to ${placeText(cureFigure(cure, 'toXMm'), cureFigure(cure, 'toYMm'))}; a cut that should meet another wants to end inside it.`,
    }),
  },
} satisfies CheckWords;
