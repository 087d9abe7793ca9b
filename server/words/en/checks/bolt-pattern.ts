import type { Cure, Finding } from '../../../engineering/finding.js';
import { numberText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, figureList, holesText, mm, moveText, sideText } from './cure-text.js';
import { figure } from './figures.js';

function offText(finding: Finding): string {
  const side = sideText(figure(finding, 'offXMm'), figure(finding, 'offYMm'));
  return side === null ? `${mm(finding.figure ?? 0)} off` : `${side} its tapped hole`;
}

function firstMove(cure: Cure): string {
  const [dxMm, dyMm] = [figureList(cure.figures, 'dxMm')[0] ?? 0, figureList(cure.figures, 'dyMm')[0] ?? 0];
  return moveText(dxMm, dyMm) ?? mm(cure.amount);
}

function eachMove(cure: Cure): string {
  const dy = figureList(cure.figures, 'dyMm');
  const dx = figureList(cure.figures, 'dxMm');
  return figureList(cure.figures, 'holeNumbers')
    .map((hole, index) => `hole ${hole} by ${moveText(dx[index] ?? 0, dy[index] ?? 0) ?? 'nothing'}`)
    .join('; ');
}

function openText(cure: Cure): string {
  return `Drill ${holesText(figureList(cure.figures, 'holeNumbers'))} to ${mm(cure.amount)}`;
}

function openAlso(cure: Cure): string {
  const { groupWasMm, series, screwSize } = cure.figures;
  const regroup =
    typeof groupWasMm === 'number'
      ? ` Their screws go by the diameter: give it as ${hundredths(cureFigure(cure, 'diameterMm'))} instead of ${hundredths(groupWasMm)} there too.`
      : '';
  return `The ${series} series for ${screwSize}; the head still seats.${regroup}`;
}

/** Clearances are told apart by hundredths. */
function hundredths(lengthMm: number): string {
  return `${numberText(lengthMm, 2)} mm`;
}

const MEASURE =
  'The position tolerances of plate and bolster are already taken off: measure the holes once they are drilled.';

export const boltPatternWords = {
  name: 'Bolt pattern',
  group: 'Fit',
  line: (finding) => {
    if (finding.situation === 'no-bolts') return 'no bolt holes, at least 2';
    if (finding.situation === 'one-bolt') return '1 bolt hole, at least 2';
    if (finding.situation === 'no-thread') return `no ${finding.figures.screwSize} thread in the face`;
    if (finding.situation === 'load-outside-screws')
      return `pressure ${mm(finding.figure ?? 0)} outside the screws`;
    if (finding.situation === 'holes-small')
      return `${hundredths(finding.figure ?? 0)} wide, at least ${hundredths(Number(finding.limit))}`;
    if (finding.figures.partner === 'none') return `hole ${figure(finding, 'holeNumber')} has no tapped hole`;
    return `worst hole ${mm(finding.figure ?? 0)} off, at most ${mm(Number(finding.limit))}`;
  },
  past: ({ situation }) => PAST[situation] ?? 'too far off',
  summary: {
    fits: (finding) =>
      `All ${figure(finding, 'screws')} bolt holes meet tapped holes, the worst ${mm(finding.figure ?? 0)} off after the plate has been shifted to suit.`,
    'fits-without-feed': (finding) =>
      `All ${figure(finding, 'screws')} bolt holes meet tapped holes, but only with the feed off the sprue: see feed on the sprue.`,
    'fits-with-dowels': (finding) =>
      `All ${figure(finding, 'screws')} bolt holes meet tapped holes. Whether the ${dowelHoles(finding)} meet anything cannot be told: no dowel holes are on record for the bolster, and a pin that stands out of the plate’s back where the bolster has no hole holds the plate off its face.`,
    'no-bolts': () => 'The drawing has no bolt holes: nothing holds the plate to the bolster.',
    'one-bolt': () => 'The drawing has one bolt hole: a plate on one screw turns about it. Two at least.',
    'no-thread': (finding) =>
      `The bolster’s face has no ${finding.figures.screwSize} tapped holes: screws of that size cannot hold the plate.`,
    'hole-off': (finding) =>
      finding.figures.partner === 'none'
        ? `Hole ${figure(finding, 'holeNumber')} has no tapped hole left to go to; the others land.`
        : `Hole ${figure(finding, 'holeNumber')} is ${offText(finding)}; its screw does not go in. The others land.`,
    'holes-off': (finding) =>
      `${figure(finding, 'wrong')} of ${figure(finding, 'screws')} bolt holes miss their tapped holes (${holesText(figureList(finding.figures, 'holeNumbers'))}). The worst is hole ${figure(finding, 'holeNumber')}, ${offText(finding)}.`,
    'holes-small': (finding) =>
      `The holes stand where they should but are ${hundredths(figure(finding, 'holeDiameterMm'))} wide, and want ${hundredths(Number(finding.limit))}: with what drilling and tapping may be off, the ${finding.figures.screwSize} screws do not surely go in.`,
    'seen-from-back': () =>
      'The bolt holes meet the bolster only when the drawing is mirrored: it seems to be drawn from the back.',
    'load-outside-screws': (finding) =>
      `The screws fit, but the middle of what the melt pushes on lies ${mm(finding.figure ?? 0)} outside the area they span: nothing pulls the plate home there, and it can lift when the part is taken out.`,
  },
  advice: {
    fits: () => MEASURE,
    'load-outside-screws': () =>
      'More screws round the load, or the cavities nearer to the middle of the screws. Until then take the parts out gently and look at the screws after the first shots.',
    'fits-with-dowels': () =>
      'Measure the dowel holes of the bolster and lay the plate on it by hand first; pins that only locate a facing plate must end below the back.',
  },
  cures: {
    'move-hole': (cure) => ({
      what: `Move hole ${figureList(cure.figures, 'holeNumbers')[0] ?? ''} by ${firstMove(cure)}`,
      also: `As the drawing lies; its middle is then at x ${numberText(figureList(cure.figures, 'toXMm')[0] ?? 0, 2)}, y ${numberText(figureList(cure.figures, 'toYMm')[0] ?? 0, 2)} mm.`,
    }),
    'move-holes': (cure) => ({
      what: `Move ${holesText(figureList(cure.figures, 'holeNumbers'))}`,
      also: `As the drawing lies: ${eachMove(cure)}.`,
    }),
    'open-hole': (cure) => ({ what: openText(cure), also: openAlso(cure) }),
    'open-holes': (cure) => ({ what: openText(cure), also: openAlso(cure) }),
    'leave-out-holes': (cure) => ({
      what: `Leave out ${holesText(figureList(cure.figures, 'holeNumbers'))}`,
      also: 'The other screws hold the plate.',
    }),
    'add-holes': (cure) => ({
      what: addText(cure),
      also: `${mm(cureFigure(cure, 'diameterMm'))} wide, at ${placesText(cure)}, over tapped holes that are free.`,
    }),
    'other-screw': (cure) => ({
      what: `${cure.figures.screwSize} screws`,
      also: 'The bolster has tapped holes for them; the bolt holes of the drawing change with them.',
    }),
    'mirror-drawing': () => ({ what: 'Mirror the drawing left to right', also: null }),
  },
} satisfies CheckWords;

function dowelHoles(finding: Finding): string {
  const dowels = figure(finding, 'dowels');
  return dowels === 1 ? 'dowel hole' : `${dowels} dowel holes`;
}

const PAST: { readonly [situation: string]: string } = {
  'no-bolts': 'too few',
  'one-bolt': 'too few',
  'holes-small': 'too small',
  'load-outside-screws': 'outside',
};

function addText({ amount }: Cure): string {
  return amount === 1 ? 'Add a bolt hole' : `Add ${amount} bolt holes`;
}

function placesText(cure: Cure): string {
  const ys = figureList(cure.figures, 'toYMm');
  return figureList(cure.figures, 'toXMm')
    .map((x, index) => `x ${numberText(x)}, y ${numberText(ys[index] ?? 0)} mm`)
    .join('; ');
}
