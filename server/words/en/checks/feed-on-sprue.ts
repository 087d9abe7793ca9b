import type { Finding } from '../../../engineering/finding.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, mm, moveText } from './cure-text.js';
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

export const feedOnSprueWords = {
  name: 'Feed on the sprue',
  group: 'Fit',
  line: (finding) => {
    if (finding.situation === 'undercut') {
      return `${mm(figure(finding, 'pocketMm'))} wide, at least ${mm(figure(finding, 'sprueMm'))}`;
    }
    const limit = `at most ${mm(figure(finding, 'feedAllowanceMm'))}`;
    return finding.figure === null ? `not placed, ${limit}` : `${mm(finding.figure)} off, ${limit}`;
  },
  past: ({ situation }) => (situation === 'undercut' ? 'too narrow' : 'too far off'),
  summary: {
    'on-sprue': (finding) => `The sprue’s end lies inside the feed. ${pocketText(finding)}.`,
    'off-sprue': (finding) =>
      `With the screws in, the feed is ${mm(finding.figure ?? 0)} off the sprue: melt meets a step, and the sprue is held back when it should come out. ${pocketText(finding)}.`,
    undercut: (finding) =>
      `The feed is ${mm(figure(finding, 'pocketMm'))} wide and the sprue’s end ${mm(figure(finding, 'sprueMm'))}${throughFacing(finding)}: the rim of the plate undercuts the sprue and holds it back in the fixed half.`,
    'not-placed': () => 'Without bolt holes that say where the plate goes, the feed cannot be judged.',
  },
  cures: {
    'move-feed': (cure) => ({
      what: `Move the feed by ${moveText(cureFigure(cure, 'dxMm'), cureFigure(cure, 'dyMm')) ?? mm(cure.amount)}`,
      also: 'As the drawing lies. The runners that meet it move too; or leave the feed and move all bolt holes the opposite way.',
    }),
    'widen-feed': (cure) => ({ what: `Feed pocket ${mm(cure.amount)} wide`, also: null }),
  },
} satisfies CheckWords;
