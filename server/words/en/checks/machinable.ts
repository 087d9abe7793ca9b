import type { Finding } from '../../../engineering/finding.js';
import { numberText, placeText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, mm } from './cure-text.js';
import { figure } from './figures.js';

const FORM: { readonly [form: string]: string } = {
  flat: 'flat end mill',
  ball: 'ball-nosed cutter',
  tapered: 'tapered cutter',
};

/** A cutter by its size as it is sold: 1.5, 3. */
function size(diameterMm: number): string {
  return numberText(
    diameterMm,
    Number.isInteger(diameterMm) ? 0 : diameterMm * 10 === Math.round(diameterMm * 10) ? 1 : 2,
  );
}

function depth(depthMm: number): string {
  return `${numberText(depthMm, depthMm < 0.1 ? 3 : 1)} mm`;
}

function cutText({ figures }: Finding): string {
  return `The ${figures.feature}, ${depth(Number(figures.depthMm))} deep,`;
}

/** "a 3 mm tapered cutter, 1° each side" */
function cutterText(finding: Finding): string {
  const { form, taperDeg } = finding.figures;
  const across = size(figure(finding, 'cutterMm'));
  const lean = form === 'tapered' ? ` of ${quantityText(Number(taperDeg), 'deg')} each side` : '';
  return `a ${across} mm ${FORM[String(form)] ?? form}${lean}`;
}

function placeOf({ places: [place] }: Finding): string {
  return place === undefined ? '' : ` at ${placeText(place.x, place.y)}`;
}

function more(finding: Finding): string {
  const others = figure(finding, 'failing') - 1;
  if (others < 1) return '';
  return others === 1 ? ' One more cut is to be minded.' : ` ${others} more cuts are to be minded.`;
}

function corners(finding: Finding): string {
  const count = figure(finding, 'corners');
  return count === 1 ? 'an inside corner' : `${count} inside corners`;
}

export const machinableWords = {
  name: 'Machinable',
  group: 'Part',
  line: (finding) => {
    const { situation, figures } = finding;
    const limit = Number(finding.limit);
    if (situation === 'taper-closes')
      return `${figures.feature} ${mm(finding.figure ?? 0)} wide, at least ${mm(limit)} for its taper`;
    if (situation === 'given-too-thick' || situation === 'too-narrow')
      return `${figures.feature} ${mm(finding.figure ?? 0)} wide at its floor, cutter ${size(limit)} mm`;
    if (situation === 'corners-stay')
      return `${mm(finding.figure ?? 0)} stays in a corner, at most ${mm(limit)}`;
    return `${figures.feature} ${depth(finding.figure ?? 0)} deep, a ${size(figure(finding, 'cutterMm'))} mm cutter reaches ${mm(limit)}`;
  },
  past: ({ situation }) =>
    situation === 'too-deep' ? 'too deep' : situation === 'corners-stay' ? 'too much' : 'too narrow',
  summary: {
    reaches: (finding) =>
      `Every cut can be made with usual cutters. ${cutText(finding)} asks most of its cutter: ${cutterText(finding)} reaches ${mm(figure(finding, 'reachMm'))}, and it is ${numberText(figure(finding, 'depthToDiameter'))} diameters deep.`,
    'reaches-but-corners': (finding) =>
      `Every cut can be made with usual cutters. ${cutText(finding)} asks most of its cutter, ${cutterText(finding)}. It leaves ${mm(figure(finding, 'staysMm'))} or less in ${corners(finding)}: a round cutter leaves its own radius there.`,
    'taper-closes': (finding) =>
      `${cutText(finding)} is ${mm(finding.figure ?? 0)} wide${placeOf(finding)}, and its walls lean in by ${quantityText(figure(finding, 'taperDeg'), 'deg')} each: they meet before its floor.${more(finding)}`,
    'given-too-thick': (finding) =>
      `${cutText(finding)} is ${mm(finding.figure ?? 0)} wide at its floor${placeOf(finding)}: the given ${size(figure(finding, 'cutterMm'))} mm cutter does not go in.${more(finding)}`,
    'too-narrow': (finding) =>
      `${cutText(finding)} is only ${mm(finding.figure ?? 0)} wide at its floor${placeOf(finding)}: even the thinnest usual cutter, ${size(Number(finding.limit))} mm, does not go in.${more(finding)}`,
    'too-deep': (finding) =>
      `${cutText(finding)} has room for ${cutterText(finding)}${placeOf(finding)}, which reaches ${mm(figure(finding, 'reachMm'))} deep; this is ${numberText(figure(finding, 'depthToDiameter'))} of its diameters. Thinner than deep it bends and breaks.${more(finding)}`,
    'corners-stay': (finding) =>
      `${cutText(finding)} is finished with ${cutterText(finding)}: ${mm(finding.figure ?? 0)} of metal stays in ${corners(finding)}${placeOf(finding)}, and the part lacks it.${more(finding)}`,
  },
  advice: {
    'too-narrow': () =>
      'A workshop with thinner cutters, or one that erodes, may cut it: ask before you draw it again.',
    'too-deep': () => 'Long cutters with a relieved neck reach farther: ask whoever mills it.',
    'corners-stay': () => 'Corners can be eroded or filed by hand, where a part needs them sharp.',
  },
  cures: {
    widen: (cure) => ({
      what: `Make the ${cure.figures.feature} ${mm(cure.amount)} wider at its narrowest`,
      also: `Now ${mm(cureFigure(cure, 'nowMm'))}; a ${size(cureFigure(cure, 'cutterMm'))} mm cutter then goes in.`,
    }),
    'less-taper': (cure) => ({
      what: `Taper of at most ${quantityText(cure.amount, 'deg')} each side`,
      also: `Now ${quantityText(cureFigure(cure, 'nowDeg'), 'deg')}.`,
    }),
    'thinner-cutter': (cure) => ({
      what: `Finish the ${cure.figures.feature} with a cutter of ${size(cure.amount)} mm`,
      also:
        cureFigure(cure, 'reachMm') < cureFigure(cure, 'depthMm')
          ? `It usually reaches ${mm(cureFigure(cure, 'reachMm'))}; a longer one is needed.`
          : null,
    }),
    'thicker-cutter': (cure) => ({
      what: `Finish the ${cure.figures.feature} with a cutter of ${size(cure.amount)} mm`,
      also: `It reaches ${mm(cureFigure(cure, 'reachMm'))}.`,
    }),
    'shallower-cut': (cure) => ({
      what: `Make the ${cure.figures.feature} at most ${mm(cure.amount)} deep`,
      also: `Now ${depth(cureFigure(cure, 'nowMm'))}; the part becomes thinner.`,
    }),
    'round-corners': (cure) => ({
      what: `Draw the inside corners with a radius of ${mm(cure.amount)}`,
      also: 'The part then is what is drawn, and it fills and lets go better.',
    }),
  },
} satisfies CheckWords;
