import type { Finding } from '../../../engineering/finding.js';
import { numberText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { mm } from './cure-text.js';
import { figure } from './figures.js';

const DRAFT_FROM: { readonly [from: string]: string } = {
  given: 'as given',
  cutter: 'as the cutter leaves it',
  usual: 'of the usual tapered cutter',
};

function draftText(finding: Finding): string {
  return `${degrees(figure(finding, 'draftDeg'))} of draft a side, ${DRAFT_FROM[String(finding.figures.draftFrom)] ?? 'as given'}`;
}

function degrees(value: number): string {
  return `${numberText(value, Number.isInteger(value) ? 0 : 1)}°`;
}

function newtons(finding: Finding, name: string): string {
  return `${numberText(figure(finding, name), 0)} N`;
}

function holdText(finding: Finding): string {
  return figure(finding, 'stripN') < 1
    ? 'Nothing stands in the part that it could shrink onto.'
    : `Shrunk onto its cores it takes about ${newtons(finding, 'stripN')} to push off.`;
}

/** Said where the gates let go before the part does. */
function gatesText(finding: Finding): string | null {
  if (figure(finding, 'stripN') <= figure(finding, 'gatesLiftN')) return null;
  return `The gates (${numberText(figure(finding, 'gatesMm2'))} mm²) tear at about ${newtons(finding, 'gatesLiftN')} while hot: lift the part itself, not by its runner. ${WEDGE}`;
}

/** Prying is work inside the guard: nobody does it on a press that can move. */
const WEDGE =
  'A brass or plastic wedge only with the press off, isolated and locked; on a running press tongs, past no guard.';

function slugText(finding: Finding): string {
  return figure(finding, 'coldSlugMm') > 0
    ? `The feed is ${mm(figure(finding, 'coldSlugMm'))} deeper than the runner: room for the cold slug.`
    : 'The feed is no deeper than the runner: the cold slug has no place of its own, and nothing pulls the sprue. Look at the first shots whether the sprue comes with the plate.';
}

export const releaseWords: CheckWords = {
  name: 'Release',
  group: 'Part',
  line: (finding) => {
    switch (finding.situation) {
      case 'grips-core':
        return `${newtons(finding, 'stripN')} to push off, at most ${newtons(finding, 'handsN')}`;
      case 'sprue-clings':
        return `sprue ${degrees(finding.figure ?? 0)} half angle`;
      case 'little-to-hold':
        return `sprue ${mm(finding.figure ?? 0)} long`;
      default:
        return `${degrees(figure(finding, 'draftDeg'))} of draft, at least ${degrees(figure(finding, 'neededDeg'))}`;
    }
  },
  past: ({ situation }) => (situation === 'grips-core' ? 'too much' : 'short'),
  summary: {
    'lets-go': (finding) => `${draftText(finding)}. ${holdText(finding)}`,
    'grips-core': (finding) =>
      `Shrunk onto what stands in it the part takes about ${newtons(finding, 'stripN')} to push off, more than the ${newtons(finding, 'handsN')} that two hands pull: it stays on the plate, or is torn.`,
    'little-draft': (finding) =>
      `${draftText(finding)}, in walls ${mm(figure(finding, 'depthMm'))} deep; ${finding.figures.polymer} wants at least ${degrees(figure(finding, 'neededDeg'))}. The part drags along the walls and has to be pried out.`,
    'sprue-clings': (finding) =>
      `The sprue’s cone is ${degrees(finding.figure ?? 0)} steep, less than ${degrees(figure(finding, 'neededSprueDeg'))}: it sticks in its bush and holds the shot on the fixed side.`,
    'little-to-hold': (finding) =>
      `The sprue is only ${mm(finding.figure ?? 0)} long: there is nothing to hold the shot by.`,
  },
  advice: {
    'lets-go': (finding) => [gatesText(finding), slugText(finding)].filter((text) => text !== null).join(' '),
    'grips-core': () => `Never pry with steel. ${WEDGE}`,
    'little-draft': slugText,
  },
  cures: {
    'more-draft': (cure) => ({
      what: `Give the cores ${degrees(cure.amount)} of draft a side`,
      also: 'Their tops get narrower by it.',
    }),
    'lower-core': (cure) => ({
      what: `Make the cores ${numberText(cure.amount, 0)} % as high, or the wall round them that much thinner`,
      also: null,
    }),
    'tapered-cutter': (cure) => ({
      what: `Finish the walls with a tapered cutter of ${degrees(cure.amount)} a side`,
      also: null,
    }),
  },
};
