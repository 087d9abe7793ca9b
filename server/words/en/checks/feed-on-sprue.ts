import type { Finding } from '../../../engineering/finding.js';
import { placeText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, figureList, mm, moveText } from './cure-text.js';
import { figure } from './figures.js';

/** Nobody has measured the bore of a facing plate for this check: say what was taken for granted. */
function throughFacing(finding: Finding): string {
  const facingMm = figure(finding, 'facingThicknessMm');
  return facingMm > 0 ? `, its taper taken to go on through ${mm(facingMm)} of facing plate` : '';
}

function pocketText(finding: Finding): string {
  const sprue = `the sprue is ${mm(figure(finding, 'sprueMm'))} at its end${throughFacing(finding)}`;
  return finding.figures.pocketFrom === 'sprue'
    ? `The feed is drawn as a point, so it is as wide as the sprue; ${sprue}`
    : `The feed is ${mm(figure(finding, 'pocketMm'))} wide, ${sprue}`;
}

const PAST: { readonly [situation: string]: string } = {
  undercut: 'too narrow',
  'cavities-not-joined': 'not joined',
  'way-apart': 'not joined',
  'blind-gate': 'ending blind',
};

function cavitiesText(finding: Finding): string {
  const numbers = figureList(finding.figures, 'cavityNumbers');
  const last = numbers.at(-1);
  if (numbers.length < 2) return `Cavity ${last ?? ''} is`;
  return `Cavities ${numbers.slice(0, -1).join(', ')} and ${last} are`;
}

function whereText({ places: [place] }: Finding): string {
  return place === undefined ? '' : `, the first with its middle at ${placeText(place.x, place.y)}`;
}

function apartText(finding: Finding): string {
  const count = figure(finding, 'apart');
  return count === 1 ? `there is a ${finding.figures.feature}` : `there are ${count} runners or gates`;
}

function atText({ places: [place] }: Finding): string {
  return place === undefined ? '' : `, at ${placeText(place.x, place.y)}`;
}

function straightInText({ figures }: Finding): string {
  const numbers = figureList(figures, 'cavityNumbers');
  return numbers.length === 1
    ? `The runner opens into cavity ${numbers[0]}`
    : `The runner opens into cavities ${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)}`;
}

export const feedOnSprueWords = {
  name: 'Feed on the sprue',
  group: 'Fit',
  line: (finding) => {
    if (finding.situation === 'undercut') {
      return `${mm(figure(finding, 'pocketMm'))} wide, at least ${mm(figure(finding, 'sprueMm'))}`;
    }
    if (finding.situation === 'cavities-not-joined') {
      return `${figure(finding, 'fed')} of ${figure(finding, 'cavities')} cavities joined to the feed`;
    }
    if (finding.situation === 'way-apart') {
      return `${figure(finding, 'ways') - figure(finding, 'apart')} of ${figure(finding, 'ways')} runners and gates joined to the feed`;
    }
    if (finding.situation === 'blind-gate') {
      return `${figure(finding, 'gates') - figure(finding, 'blind')} of ${figure(finding, 'gates')} gates lead to a cavity`;
    }
    const limit = `at most ${mm(figure(finding, 'feedAllowanceMm'))}`;
    return finding.figure === null ? `not placed, ${limit}` : `${mm(finding.figure)} off, ${limit}`;
  },
  past: ({ situation }) => PAST[situation] ?? 'too far off',
  summary: {
    'on-sprue': (finding) => `The sprue’s end lies inside the feed. ${pocketText(finding)}.`,
    'off-sprue': (finding) =>
      `With the screws in, the feed is ${mm(finding.figure ?? 0)} off the sprue: melt meets a step, and the sprue is held back when it should come out. ${pocketText(finding)}.`,
    undercut: (finding) =>
      `The feed is ${mm(figure(finding, 'pocketMm'))} wide and the sprue’s end ${mm(figure(finding, 'sprueMm'))}${throughFacing(finding)}: the rim of the plate undercuts the sprue and holds it back in the fixed half.`,
    'cavities-not-joined': (finding) =>
      `The feed meets the sprue, but ${cavitiesText(finding).replace(/^C/, 'c')} not joined to it${whereText(finding)}: no melt gets there, and the shot goes into the rest.`,
    'way-apart': (finding) =>
      `Every cavity gets its melt, but ${apartText(finding)} no way leads to from the feed${atText(finding)}: it is cut and stays empty.`,
    'blind-gate': (finding) =>
      `Every cavity gets its melt, but ${figure(finding, 'blind') === 1 ? 'a gate ends' : `${figure(finding, 'blind')} gates end`} before a cavity${atText(finding)}: melt runs in and goes no farther.`,
    'runner-opens-in': (finding) =>
      `The sprue’s end lies inside the feed. ${pocketText(finding)}. ${straightInText(finding)} without a gate.`,
    'not-placed': () => 'Without bolt holes that say where the plate goes, the feed cannot be judged.',
  },
  advice: {
    'runner-opens-in': (finding) =>
      `The part is cut off across ${mm(figure(finding, 'inletDepthMm'))} there, and the mark shows; a gate of half the wall or less breaks off.`,
  },
  cures: {
    'move-feed': (cure) => ({
      what: `Move the feed by ${moveText(cureFigure(cure, 'dxMm'), cureFigure(cure, 'dyMm')) ?? mm(cure.amount)}`,
      also: 'As the drawing lies. The runners that meet it move too; or leave the feed and move all bolt holes the opposite way.',
    }),
    'join-cuts': (cure) => ({
      what: 'Lead a runner or gate across the gap',
      also: `From ${placeText(cureFigure(cure, 'fromXMm'), cureFigure(cure, 'fromYMm'))} to ${placeText(cureFigure(cure, 'toXMm'), cureFigure(cure, 'toYMm'))}; a cut that should meet another wants to end inside it.`,
    }),
    'lead-gate-on': (cure) => ({
      what: `Lead the gate ${mm(cure.amount)} farther, or leave it out`,
      also: `From ${placeText(cureFigure(cure, 'fromXMm'), cureFigure(cure, 'fromYMm'))} to ${placeText(cureFigure(cure, 'toXMm'), cureFigure(cure, 'toYMm'))}, and on until it ends inside the cavity.`,
    }),
    'widen-feed': (cure) => ({ what: `Feed pocket ${mm(cure.amount)} wide`, also: null }),
  },
} satisfies CheckWords;
