import type { Cure, Finding } from '../../../engineering/finding.js';
import { numberText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, figureList, holesText, mm } from './cure-text.js';
import { figure } from './figures.js';

function where(finding: Finding): string {
  const numbers = figureList(finding.figures, 'holeNumbers');
  return numbers.length === figure(finding, 'screws')
    ? 'It is so at every screw.'
    : `It is so at ${holesText(numbers)}.`;
}

/** Said in every case: a head can press into soft metal, or go through it, at the torque its screw would bear. */
function torqueAdvice(finding: Finding): string | null {
  const { torqueLimit, screwSize } = finding.figures;
  if (torqueLimit === undefined) return null;
  const usual = `${numberText(figure(finding, 'usualTorqueNm'))} N m`;
  if (torqueLimit === 'usual') return `Tighten ${screwSize} of class 8.8 to about ${usual}, dry.`;
  const most = `${numberText(Math.floor(figure(finding, 'torqueNm') * 10) / 10)} N m`;
  return torqueLimit === 'shear'
    ? `At the usual ${usual} an ${screwSize} head strains the ${mm(figure(finding, 'metalUnderHeadMm'))} under it to ${numberText(figure(finding, 'headShearMpa'), 0)} MPa in shear, and it goes through at about ${numberText(figure(finding, 'shearStrengthMpa'), 0)} MPa: tighten to ${most} and no more, with a torque wrench. A washer does not help.`
    : `At the usual ${usual} an ${screwSize} head presses ${numberText(figure(finding, 'headPressureMpa'), 0)} MPa on a plate that yields at ${numberText(figure(finding, 'proofMpa'), 0)} MPa: tighten to ${most}, or lay a hardened washer under the head.`;
}

/** Where the usual torque is too much the one to tighten to is seen at once. */
function torqueInLine({ verdict, figures }: Finding): string {
  if (verdict === 'stop' || figures.torqueLimit === undefined || figures.torqueLimit === 'usual') return '';
  return `; tighten to ${numberText(Math.floor(Number(figures.torqueNm) * 10) / 10)} N m`;
}

function alsoText(cure: Cure): string | null {
  const engagedMm = cure.figures.engagedMm;
  if (typeof engagedMm !== 'number') return 'No standard screw length suits then: look at screw engagement.';
  const screw = `${cure.figures.screwSize} × ${cureFigure(cure, 'screwLengthMm')}`;
  return cure.figures.screwChanges === 'yes'
    ? `Take ${screw} screws: they engage ${mm(engagedMm)}.`
    : `The screws then engage ${mm(engagedMm)}.`;
}

export const screwHeadsWords = {
  name: 'Screw heads',
  group: 'Fit',
  line: (finding) => {
    if (finding.figure === null || typeof finding.limit !== 'number') return 'no screws';
    const limit = `${finding.allowed === 'at-most' ? 'at most' : 'at least'} ${mm(finding.limit)}`;
    return `${LINE_OF[finding.situation] ?? 'sunk'} ${mm(finding.figure)}, ${limit}${torqueInLine(finding)}`;
  },
  past: ({ situation }) => PAST[situation] ?? 'too narrow',
  summary: {
    'no-screws': () => 'The drawing has no bolt holes, so there are no heads to judge.',
    sunk: (finding) =>
      `The heads are ${mm(figure(finding, 'headHeightMm'))} high and lie ${mm(figure(finding, 'sinkDepthMm'))} deep, with ${mm(figure(finding, 'metalUnderHeadMm'))} of metal under them.`,
    'head-proud': (finding) =>
      figure(finding, 'sinkDepthMm') === 0
        ? `The heads are not sunk: they stand ${mm(figure(finding, 'headHeightMm'))} proud and strike the fixed half when the press closes. ${where(finding)}`
        : `The heads are ${mm(figure(finding, 'headHeightMm'))} high but sunk only ${mm(figure(finding, 'sinkDepthMm'))}: they stand ${mm(figure(finding, 'headHeightMm') - figure(finding, 'sinkDepthMm'))} proud and strike the fixed half when the press closes. ${where(finding)}`,
    'sink-through': (finding) =>
      `The sink is ${mm(figure(finding, 'sinkDepthMm'))} deep and leaves no metal under the head: nothing holds the plate. ${where(finding)}`,
    'sink-narrow': (finding) =>
      `The sink is ${mm(finding.figure ?? 0)} wide and the head needs ${mm(Number(finding.limit))}: it does not go in. ${where(finding)}`,
    'sink-tight': (finding) =>
      `The sink is ${mm(finding.figure ?? 0)} wide: a plain head goes in, a knurled one, which is a little wider, may not. ${where(finding)}`,
    'head-through-hole': (finding) =>
      `The hole is ${mm(figure(finding, 'holeDiameterMm'))} wide and the head only ${mm(figure(finding, 'headDiameterMm'))}: it falls through. ${where(finding)}`,
    'head-shears': (finding) =>
      `Only ${mm(finding.figure ?? 0)} of metal is left under the head: half the usual tightening force already shears it through (${numberText(figure(finding, 'headShearMpa') / 2, 0)} MPa where ${numberText(figure(finding, 'shearStrengthMpa'), 0)} MPa is about all the metal has), and the plate comes loose. ${where(finding)}`,
    'little-metal': (finding) =>
      `Only ${mm(finding.figure ?? 0)} of metal is left under the head; half a screw diameter, ${mm(Number(finding.limit))}, is usual. ${where(finding)}`,
    'hole-wide': (finding) =>
      `The hole is ${mm(figure(finding, 'holeDiameterMm'))} wide: the head seats on a narrow rim and can dig in. ${where(finding)}`,
  },
  advice: {
    sunk: torqueAdvice,
    'sink-tight': torqueAdvice,
    'little-metal': torqueAdvice,
    'hole-wide': () => 'Lay a hardened washer under the head.',
  },
  cures: {
    'deeper-sink': (cure) => ({
      what: `Sink the heads ${mm(cure.amount)} deep, ${mm(cureFigure(cure, 'diameterMm'))} wide`,
      also: alsoText(cure),
    }),
    'shallower-sink': (cure) => ({
      what: `Sink the heads only ${mm(cure.amount)} deep`,
      also: alsoText(cure),
    }),
    'wider-sink': (cure) => ({ what: `Sinks ${mm(cure.amount)} wide`, also: null }),
    'thicker-plate': (cure) => ({
      what: `Plate of ${mm(cure.amount)}, heads sunk ${mm(cureFigure(cure, 'depthMm'))}`,
      also: alsoText(cure),
    }),
    'smaller-hole': (cure) => ({ what: `Bolt holes of at most ${mm(cure.amount)}`, also: null }),
  },
} satisfies CheckWords;

const PAST: { readonly [situation: string]: string } = {
  'sink-through': 'too thin',
  'head-shears': 'too thin',
  'little-metal': 'too thin',
  'head-proud': 'too shallow',
  'head-through-hole': 'too wide',
  'hole-wide': 'too wide',
};

const LINE_OF: { readonly [situation: string]: string } = {
  'head-shears': 'metal under the head',
  'sink-through': 'metal under the head',
  'little-metal': 'metal under the head',
  'sink-narrow': 'sink width',
  'sink-tight': 'sink width',
  'head-through-hole': 'hole',
  'hole-wide': 'hole',
};
