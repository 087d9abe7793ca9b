import type { Cure, Finding } from '../../../engineering/finding.js';
import { numberText, placeText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, mm, moveText, screwsAfter } from './cure-text.js';
import { figure } from './figures.js';

const CUT: { readonly [kind: string]: string } = {
  cavity: 'cavity',
  runner: 'runner',
  gate: 'gate',
  feed: 'feed',
  vent: 'vent',
  sink: 'sink',
  bolt: 'bolt hole',
  dowel: 'dowel hole',
  water: 'cooling bore',
  edge: 'edge',
  opening: 'opening',
  back: 'back',
  face: 'parting face',
};

function named(kind: unknown): string {
  return CUT[String(kind)] ?? String(kind);
}

function pairText({ figures }: Finding): string {
  return `${named(figures.of)} to ${named(figures.to)}`;
}

function placeOf({ places: [place] }: Finding): string {
  return place === undefined ? '' : ` at ${placeText(place.x, place.y)}`;
}

function more(finding: Finding): string {
  const others = figure(finding, 'failing') - 1;
  if (others < 1) return '';
  return others === 1 ? ' One more wall is too thin.' : ` ${others} more walls are too thin.`;
}

/** A depth: 15.95 must not read as 15.9. */
function depth(depthMm: number): string {
  return `${numberText(depthMm, Math.abs(depthMm * 10 - Math.round(depthMm * 10)) < 1e-6 ? 1 : 2)} mm`;
}

/** "the two cavities", "cavity and runner" */
function bothText({ figures: { of, to } }: Pick<Cure, 'figures'>): string {
  return of === 'cavity' && to === 'cavity' ? 'the two cavities' : `${named(of)} and ${named(to)}`;
}

export const wallsWords = {
  name: 'Walls',
  group: 'Fit',
  line: (finding) =>
    (finding.figure ?? 0) <= 0
      ? `${pairText(finding)}: no metal left`
      : `${pairText(finding)} ${mm(finding.figure ?? 0)}, at least ${mm(Number(finding.limit))}`,
  past: () => 'too thin',
  summary: {
    enough: (finding) =>
      `The thinnest metal for its kind is from ${pairText(finding)}: ${mm(finding.figure ?? 0)}.`,
    'thin-wall': (finding) =>
      `Only ${mm(finding.figure ?? 0)} of metal stands between ${bothText(finding)}${placeOf(finding)}; ${mm(Number(finding.limit))} is usual. It can bend or break out when it is milled or filled.${more(finding)}`,
    'thin-floor': (finding) =>
      `Only ${mm(finding.figure ?? 0)} of metal is left under the ${named(finding.figures.of)}, which is ${depth(figure(finding, 'depthMm'))} deep; ${mm(Number(finding.limit))} is usual.${more(finding)}`,
    'sink-over-edge': (finding) =>
      `A screw’s sink runs out over the edge of the plate${placeOf(finding)}: its head has no rim there.${more(finding)}`,
    'water-open-at-back': (finding) =>
      `The cooling bore is open at the back of the plate${placeOf(finding)}: it leaks between plate and bolster unless it is meant as a groove with a seal, an O-ring in a groove of its own round it. Water on hot melt flashes to steam.${more(finding)}`,
    'through-floor': (finding) =>
      `The ${named(finding.figures.of)} is ${depth(figure(finding, 'depthMm'))} deep in a plate of ${depth(figure(finding, 'thicknessMm'))}: it goes right through, and melt gets out behind the plate.${more(finding)}`,
    'no-floor-left': (finding) =>
      `The ${named(finding.figures.of)} is ${depth(figure(finding, 'depthMm'))} deep in a plate of ${depth(figure(finding, 'thicknessMm'))}: the ${mm(finding.figure ?? 0)} that are drawn lie within what stock and milling are off, so the cut comes out of the back, and melt gets out behind the plate.${more(finding)}`,
    'water-near': (finding) =>
      `Only ${mm(finding.figure ?? 0)} of metal is left between the cooling bore and the ${named(finding.figures.to)}${placeOf(finding)}; ${mm(Number(finding.limit))} is usual. Long bores wander as they are drilled: it can come out there and leak.${more(finding)}`,
    'out-of-plate': (finding) =>
      `The ${named(finding.figures.of)} runs out of the plate at its ${named(finding.figures.to)}${placeOf(finding)}${MELT.has(String(finding.figures.of)) ? ': hot melt would spray out of the side' : ''}.${more(finding)}`,
    'into-hole': (finding) =>
      `The ${named(finding.figures.of)} runs into a ${named(finding.figures.to)}${placeOf(finding)}: melt gets in, round the screw and behind the plate.${more(finding)}`,
    'into-water': (finding) =>
      `The cooling bore runs into the ${named(finding.figures.to)}${placeOf(finding)}: water would get out, and on hot melt it flashes to steam.${more(finding)}`,
  },
  advice: {
    'water-open-at-back': () =>
      'As a bore it needs another depth. As a groove with a seal try it under water pressure on the bolster, cold, before the first shot; without the seal run no water.',
    'thin-wall': () =>
      'The usual walls are common practice, by depth and kind; a steward may accept less with a note.',
    'water-near': () =>
      'Try the finished plate with water under pressure before it is mounted, and never run it leaking.',
    'thin-floor': () =>
      'On a face without openings the bolster backs the floor; the trouble is in the milling.',
  },
  cures: {
    'deeper-bore': (cure) => ({
      what: `Cooling bore ${mm(cure.amount)} below the face`,
      also: `Its axis, now at ${depth(cureFigure(cure, 'nowMm'))}.`,
    }),
    'shallower-bore': (cure) => ({
      what: `Cooling bore only ${mm(cure.amount)} below the face`,
      also: `Its axis, now at ${depth(cureFigure(cure, 'nowMm'))}.`,
    }),
    'thicker-plate': (cure) => ({ what: `Plate of ${mm(cure.amount)}`, also: screwsAfter(cure) }),
    'move-apart': (cure) => ({
      what: `Move ${bothText(cure)} ${mm(cure.amount)} farther apart`,
      also: directionText(
        moveText(cureFigure(cure, 'dxMm'), cureFigure(cure, 'dyMm')),
        named(cure.figures.of),
      ),
    }),
    'move-inwards': (cure) => ({
      what: `${mm(cure.amount)} more metal between ${named(cure.figures.of)} and ${named(cure.figures.to)}`,
      also: directionText(
        moveText(cureFigure(cure, 'dxMm'), cureFigure(cure, 'dyMm')),
        named(cure.figures.of),
      ),
    }),
  },
} satisfies CheckWords;

const MELT: ReadonlySet<string> = new Set(['cavity', 'runner', 'gate', 'feed']);

function directionText(move: string | null, what: string): string | null {
  return move === null ? null : `As the drawing lies: the ${what} by ${move}, or the other the opposite way.`;
}
