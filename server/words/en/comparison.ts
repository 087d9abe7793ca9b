import type { ChangedCut, ChangedFigure, CutChange } from '../../engineering/drawing/difference.js';
import type { HoleChange } from '../../engineering/drawing/holes-changed.js';
import type { CutterGiven, PlateFacts, ScrewFacts, ScrewGroup } from '../../engineering/press-facts.js';
import { featureNames } from './check-page.js';
import { numberText, placeText, quantityText } from './numbers.js';

/** What became of a place of the face, for the key and the table. */
export const CUT_CHANGE_WORDS: { readonly [change in CutChange]: string } = {
  added: 'cut, and was not before',
  deeper: 'cut deeper',
  shallower: 'cut less deep',
  removed: 'no longer cut',
};

/** "cavity, in 4 places", "vent". */
export function changedCutText({ feature, pieces }: ChangedCut): string {
  return `${featureNames([feature])}${pieces === 1 ? '' : `, in ${pieces} places`}`;
}

export function depthText(depthMm: number): string {
  return depthMm === 0 ? 'not cut' : `${lengthText(depthMm)} deep`;
}

export function areaText(areaMm2: number): string {
  return `${numberText(areaMm2, areaMm2 < 10 ? 2 : 0)} mm²`;
}

const HOLE_CHANGE_WORDS: { readonly [change in HoleChange['change']]: string } = {
  added: 'new hole',
  removed: 'hole gone',
  moved: 'hole elsewhere',
  resized: 'hole of another size',
};

/** A hole that changed, as a row: what, before, after, by how much. */
export function holeChangeRow(kind: 'screw' | 'dowel', { change, from, to, movedMm }: HoleChange) {
  const hole = (one: HoleChange['from']) =>
    one === null ? 'none' : `${placeText(one.at.x, one.at.y)}, Ø ${lengthText(one.diameterMm)}`;
  return {
    what: HOLE_CHANGE_WORDS[change],
    of: kind === 'screw' ? 'screw' : 'dowel',
    from: hole(from),
    to: hole(to),
    size: movedMm > 0 ? `by ${lengthText(movedMm)}` : '',
  };
}

export function feedText({ at, diameterMm, depthMm }: FeedPlace): string {
  return `${placeText(at.x, at.y)}, Ø ${lengthText(diameterMm)}, ${lengthText(depthMm)} deep`;
}

interface FeedPlace {
  readonly at: { readonly x: number; readonly y: number };
  readonly diameterMm: number;
  readonly depthMm: number;
}

const FIGURE_NAMES: { readonly [figure in ChangedFigure['figure']]: string } = {
  widthMm: 'Width as drawn',
  heightMm: 'Height as drawn',
  cavities: 'Cavities',
  projectedMm2: 'Projected area',
  cavityMm3: 'Volume of the parts',
  mouldedMm3: 'Volume of a shot in the plate',
};

/** A figure of the drawing before and after, in words. */
export function figureRow({ figure, from, to }: ChangedFigure) {
  const written = (value: number) => {
    if (figure === 'cavities') return String(value);
    if (figure === 'projectedMm2') return `${numberText(value / 100, 2)} cm²`;
    return figure === 'cavityMm3' || figure === 'mouldedMm3'
      ? `${numberText(value / 1000, 2)} cm³`
      : lengthText(value);
  };
  return { fact: FIGURE_NAMES[figure], from: written(from), to: written(to) };
}

/** What is said of a plate beside its drawing, by fact. */
export const FACT_WORDS: {
  readonly [fact in keyof PlateFacts]: {
    readonly name: string;
    readonly value: (fact: PlateFacts[fact]) => string;
  };
} = {
  alloy: { name: 'Alloy', value: (alloy) => alloy.replace('cast-plate', 'cast plate') },
  thicknessMm: { name: 'Thickness', value: lengthText },
  packerThicknessMm: { name: 'Packer', value: lengthOrNone },
  facingThicknessMm: { name: 'Facing plate', value: lengthOrNone },
  partHeightMm: { name: 'The part stands out', value: (mm) => (mm === null ? 'not said' : lengthText(mm)) },
  draftDeg: { name: 'Draft', value: (deg) => (deg === null ? 'not said' : quantityText(deg, 'deg')) },
  cutters: { name: 'Cutters', value: (cutters) => listed(cutters.map(cutterText)) },
  screw: { name: 'Screws', value: screwText },
  screwGroups: { name: 'Other screws', value: (groups) => listed(groups.map(groupText)) },
};

function listed(items: readonly string[]): string {
  return items.length === 0 ? 'none' : items.join('; ');
}

function cutterText({ feature, form, diameterMm, taperDeg }: CutterGiven): string {
  const parts = [
    feature ?? 'every cut',
    form ?? '',
    diameterMm === null ? '' : `Ø ${lengthText(diameterMm)}`,
    taperDeg === null ? '' : `${quantityText(taperDeg, 'deg')} a side`,
  ];
  return parts.filter((part) => part !== '').join(' ');
}

function screwText({ size, lengthMm, headSinkDepthMm, headSinkDiameterMm }: ScrewFacts): string {
  const sunk = headSinkDepthMm === null ? '' : `, sunk ${lengthText(headSinkDepthMm)}`;
  const across = headSinkDiameterMm === null ? '' : `, sink Ø ${lengthText(headSinkDiameterMm)}`;
  return `${size} × ${numberText(lengthMm, lengthMm % 1 === 0 ? 0 : 1)}${sunk}${across}`;
}

function groupText({ holeDiameterMm, holes, screw }: ScrewGroup): string {
  const which =
    holeDiameterMm === null ? `holes ${holes.join(', ')}` : `holes of Ø ${lengthText(holeDiameterMm)}`;
  return `${which}: ${screwText(screw)}`;
}

function lengthOrNone(lengthMm: number): string {
  return lengthMm === 0 ? 'none' : lengthText(lengthMm);
}

/** To a hundredth, without zeros that say nothing: "16 mm", "0.02 mm". */
function lengthText(lengthMm: number): string {
  return `${numberText(Math.round(lengthMm * 1000) / 1000, 3).replace(/\.?0+$/, '')} mm`;
}

/** What became of a check, in a table of two reports. */
export const FINDING_CHANGE_WORDS = {
  better: 'better',
  worse: 'worse',
  'more-margin': 'more to spare',
  'less-margin': 'less to spare',
  other: 'another situation',
  same: 'the same',
  new: 'judged now',
  gone: 'not judged any more',
} as const;

/** How the earlier drawing was laid on the later one, where that is not as both are drawn. */
export function laidText(by: 'as-drawn' | 'feed' | 'outline', turnedDeg: number): string | null {
  if (by === 'as-drawn') return null;
  const turned = turnedDeg === 0 ? '' : `, turned ${turnedDeg}° counter-clockwise`;
  return `Their origins differ: the earlier drawing is laid on the later one by its ${by}${turned}.`;
}

/** What the picture of a difference shows, in words. */
export function differenceLabel(rows: number, from: string, to: string): string {
  const count = rows === 1 ? 'one change' : `${rows} changes`;
  return `The plate as ${to} draws it, with ${count} from ${from}; each is a row of the table.`;
}

/** "Revision 2, PP, Blank A" */
export function sideText(revision: number, polymer: string, bolster: string): string {
  return `Revision ${revision}, ${polymer}, ${bolster}`;
}
