import type {
  CuttingList,
  ListedCut,
  ListedCutter,
  ListedDepth,
  ListedHole,
} from '../../engineering/machining/cutting-list.js';
import type { WorkStep } from '../../engineering/machining/order-of-work.js';
import type { MilledFeature } from '../../engineering/press-facts.js';
import { numberText, quantityText } from './numbers.js';

const FORM = { flat: 'flat end mill', ball: 'ball-nosed', tapered: 'tapered' } as const;

/** A size as it is sold or drawn: 3, 1.5, 6.35. */
export function sizeText(mm: number): string {
  const rounded = Math.round(mm * 1000) / 1000;
  return numberText(rounded, Math.min(3, String(rounded).split('.')[1]?.length ?? 0));
}

/** An ordinate: two decimals, as a mill shows it. */
export function ordinateText(mm: number): string {
  return numberText(mm, 2);
}

function depthText(mm: number): string {
  return mm < 0.1 ? numberText(mm, 3) : numberText(mm, 2);
}

/** "cavity 4.00, runner 3.00" */
export function cutsText(cuts: readonly ListedCut[]): string {
  return cuts.map(({ feature, depthMm }) => `${feature} ${depthText(depthMm)}`).join(', ');
}

/** "flat end mill", "tapered, 1° each side" */
export function formText({ form, taperDeg, isLong }: ListedCutter): string {
  const lean = form === 'tapered' ? `, ${quantityText(taperDeg, 'deg')} each side` : '';
  return `${FORM[form]}${lean}${isLong ? ', long with a relieved neck' : ''}`;
}

export const USE = { rough: 'rough', finish: 'finish' } as const;

/** What makes a bolt hole: "drill 6.6, clearance for M6, medium". */
export function drillText({ kind, drillMm, screw, series }: ListedHole): string {
  if (kind === 'dowel') return `${sizeText(drillMm)}, ream`;
  const clearance =
    screw === null ? '' : series === null ? `, for ${screw.size}` : `, ${screw.size} ${series}`;
  return `${sizeText(drillMm)}${clearance}`;
}

/** "11 × 7.00 deep", "none" */
export function sinkText({ sink }: ListedHole): string {
  return sink === null ? 'none' : `${sizeText(sink.diameterMm)} × ${depthText(sink.depthMm)} deep`;
}

export function screwText({ screw }: ListedHole): string {
  return screw === null ? '' : `${screw.size} × ${sizeText(screw.lengthMm)}`;
}

/** "200 × 160 × 17.00 mm, EN AW-6082-T6, 1.43 kg" */
export function blankText({ blank, alloy, blankKg }: CuttingList): string {
  const { widthMm, heightMm, thicknessMm } = blank;
  return `${sizeText(widthMm)} × ${sizeText(heightMm)} × ${numberText(thicknessMm, 1)} mm, ${alloyText(alloy)}, ${numberText(blankKg, 2)} kg`;
}

function alloyText(alloy: string): string {
  return alloy === 'cast-plate' ? 'cast plate' : alloy;
}

export function finishedText({ finished }: CuttingList): string {
  const { widthMm, heightMm, thicknessMm } = finished;
  return `${numberText(widthMm, 2)} × ${numberText(heightMm, 2)} × ${numberText(thicknessMm, 2)} mm`;
}

export function allowanceText({ allowanceMm }: CuttingList): string {
  return `${numberText(allowanceMm.edge, 1)} mm on each edge at least, ${numberText(allowanceMm.face, 1)} mm on each face`;
}

/** "2 cooling bores of 8 mm, axis 14.00 mm below the face, 14 and 8 mm long": one line for those alike, then where each lies. */
export function boresText(water: CuttingList['water']): readonly string[] {
  const kinds = new Map<string, number[]>();
  const axes = water.map(({ axis }, i) => {
    const ends = axis.map(({ x, y }) => `x ${ordinateText(x)}, y ${ordinateText(y)}`);
    const bore = water.length === 1 ? 'Its axis' : `Axis of bore ${i + 1}`;
    return `${bore}, from the datum corner: ${ends.join('; to ')} mm.`;
  });
  for (const { diameterMm, depthMm, lengthMm } of water) {
    const kind = `${sizeText(diameterMm)} mm, axis ${numberText(depthMm, 2)} mm below the face`;
    kinds.set(kind, [...(kinds.get(kind) ?? []), lengthMm]);
  }
  const bores = [...kinds].map(([kind, lengths]) => {
    const texts = lengths.map((mm) => numberText(mm, 0));
    const all = texts.length === 1 ? texts[0] : `${texts.slice(0, -1).join(', ')} and ${texts.at(-1)}`;
    const which = texts.length === 1 ? 'Cooling bore' : `${texts.length} cooling bores`;
    return `${which} of ${kind}, ${all} mm long in the drawing.`;
  });
  return [...bores, ...axes];
}

/** The order of work, a sentence a step. */
export const STEP_TEXT: { readonly [step in WorkStep]: string } = {
  face: 'Face both sides to the finished thickness, taking as much off one as off the other. Turn it, and face it again until it is parallel.',
  edges:
    'Mill the edges square. Mark the datum corner and touch off its two edges; leave them alone from then on.',
  holes: 'Spot and drill the bolt holes right through, in steps, lifting to clear the chips.',
  dowels: 'Drill the dowel holes under size and ream them to the pins.',
  sinks: 'Sink the screw heads from the parting face.',
  water:
    'Drill the cooling bores from the edge, in steps, before the cavities are cut; try them with water under pressure.',
  openings: 'Cut the openings right through, on tabs or with the plate held on both sides of them.',
  rough:
    'Rough all pockets and channels, leaving 0.2 mm on walls and floors. Loosen the clamps, let the plate settle, clamp it again.',
  finish:
    'Finish floors, then walls, each cut with its cutter, in the order of the list of cutters. Leave feed, runner and gate open into one another.',
  vents: 'Cut the vents last, touching off anew on the finished face: their depth is measured from it.',
  deburr:
    'Take burrs off with a stone laid flat on the face. Break the outer edges of the plate 0.5 mm by hand file; not those of the cuts: do not round the edges of cavity, runner and vents: melt flashes over a rounded edge.',
  measure: 'Clean it and measure it as listed before it leaves the mill.',
};

const NAME: { readonly [feature in MilledFeature]: string } = {
  cavity: 'Cavity depth',
  runner: 'Runner depth',
  gate: 'Gate depth',
  feed: 'Feed pocket depth',
  vent: 'Vent depth',
};

/** "± 0.05", "+ 0 / − 0.005" */
function offText(shallowerMm: number, deeperMm: number): string {
  const off = numberText(shallowerMm, shallowerMm < 0.01 ? 3 : 2);
  return deeperMm === 0 ? `+ 0 / \u2212 ${off}` : `± ${off}`;
}

/** What to measure after: what, drawn, allowed. */
export function measureRows(list: CuttingList): readonly { what: string; drawn: string; allowed: string }[] {
  const thickness = numberText(list.finished.thicknessMm, 2);
  const sinks = [...new Set(list.holes.map(sinkText))].filter((text) => text !== 'none');
  return [
    {
      what: 'Thickness at the four corners',
      drawn: thickness,
      allowed: `within ${numberText(list.parallelMm, 2)} of one another`,
    },
    ...list.depths.map(({ feature, depthMm, toleranceMm, deeperMm }) => ({
      what: NAME[feature],
      drawn: depthText(depthMm),
      allowed: offText(toleranceMm, deeperMm),
    })),
    ...sinks.map((text) => ({ what: 'Sinks', drawn: text, allowed: 'no shallower; head below the face' })),
    { what: 'Bolt holes, each to the feed', drawn: 'as listed', allowed: '± 0.03 in x and y' },
  ];
}

/** What stays in inside corners, for the cuts where something does. */
export function cornerText({ feature, depthMm, cornerRadiusMm, staysMm }: ListedDepth): string | null {
  if (cornerRadiusMm === null) return null;
  return `The inside corners of the ${feature}, ${depthText(depthMm)} mm deep, keep a radius of ${sizeText(cornerRadiusMm)} mm: up to ${numberText(staysMm, 2)} mm more metal than drawn.`;
}

export const MILLING_CAUTIONS: readonly string[] = [
  'Eyes: safety glasses for everybody near the mill, whoever runs it.',
  'Clamp plate and packing so that nothing can lift or turn; keep clamps out of the way of holder and nut; stop the spindle before reaching in.',
  'No gloves, loose sleeves, rings or long hair near a turning spindle.',
  'Chips are sharp and hot: brush or vacuum, never fingers, never compressed air. Fine aluminium swarf burns; keep it from steel grinding dust.',
  'Guards closed while it cuts. Coolant mist is not to be breathed.',
  'The mill’s own manual and the workshop’s rules go before this list. Speeds and feeds come from the cutter’s maker.',
];

export const CUTTING_DRAWING = {
  feed: 'feed',
  label: (holes: number) =>
    `The plate on its parting face, datum corner at the lower left, with ordinates of ${holes} holes and the feed. The table below says the same.`,
} as const;
