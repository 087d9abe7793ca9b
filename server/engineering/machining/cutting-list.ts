import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import { clearanceSeries } from '../fit/clearance-series.js';
import { screwSize } from '../fit/fasteners/iso-261-threads.js';
import { CAP_SCREWS } from '../fit/fasteners/iso-4762-screws.js';
import { USUAL_FLASH_GAP } from '../fit/reading-limits.js';
import { screwOfBolt } from '../fit/screw-of-bolt.js';
import type { Point } from '../geometry/point.js';
import { ALLOY_FACTS } from '../materials/alloys.js';
import type { Alloy, CutterForm, MilledFeature, PlateFacts } from '../press-facts.js';
import { type MilledCut, milledCuts, reachOf } from './milled-cuts.js';
import { STEPS_OF_WORK, type WorkStep } from './order-of-work.js';
import { thickestUpTo } from './workshop-cutters.js';

/** Stock over the finished size, to saw and to face, mm on each side. Common practice, no source. */
const ALLOWANCE_MM = { edge: 2.5, face: 0.5 } as const;

/** Out of the holder beyond the cut's depth, so that holder and nut stay clear, mm. Common practice, no source. */
const HOLDER_CLEAR_MM = 3;

/** Nothing is roughed with a thicker cutter on the machines in question, mm. Common practice, no source. */
const ROUGH_MOST_MM = 6;

/** What a depth may be off, mm: a vent's decides between air and flash, so that it is never deeper. Common practice, no source. */
const DEPTH_TOLERANCE_MM = { cavity: 0.05, runner: 0.1, gate: 0.05, feed: 0.1, vent: 0.005 } as const;

export interface ListedCut {
  readonly feature: MilledFeature;
  readonly depthMm: number;
}

/** One cutter, clamped once, with all that it cuts. */
export interface ListedCutter {
  readonly number: number;
  readonly use: 'rough' | 'finish';
  readonly form: CutterForm;
  /** At the tip. */
  readonly diameterMm: number;
  readonly taperDeg: number;
  /** Out of the holder, at least. */
  readonly stickOutMm: number;
  /** Depth of its deepest cut over its diameter. */
  readonly depthToDiameter: number;
  /** Deeper than one of that diameter usually reaches: a long one with a relieved neck is needed. */
  readonly isLong: boolean;
  readonly isGiven: boolean;
  readonly cuts: readonly ListedCut[];
}

/** A hole to drill. Coordinates from the datum corner and from the feed, mm. */
export interface ListedHole {
  readonly number: number;
  readonly kind: 'bolt' | 'dowel';
  readonly at: Point;
  readonly fromDatum: Point;
  readonly fromFeed: Point;
  readonly drillMm: number;
  /** For a bolt hole: its screw, and the series of clearance holes it belongs to. */
  readonly screw: { readonly size: string; readonly lengthMm: number } | null;
  readonly series: 'fine' | 'medium' | 'coarse' | null;
  readonly sink: { readonly diameterMm: number; readonly depthMm: number; readonly drawn: boolean } | null;
}

export interface ListedDepth extends ListedCut {
  /** Shallower by so much. */
  readonly toleranceMm: number;
  /** Deeper by so much. */
  readonly deeperMm: number;
  /** What a round cutter leaves in the inside corners, as a radius, mm; null where no corner is sharper. */
  readonly cornerRadiusMm: number | null;
  readonly staysMm: number;
}

/** All that a workshop needs to cut a plate. Lengths in mm, kg. */
export interface CuttingList {
  readonly alloy: Alloy;
  readonly blank: { readonly widthMm: number; readonly heightMm: number; readonly thicknessMm: number };
  readonly finished: { readonly widthMm: number; readonly heightMm: number; readonly thicknessMm: number };
  readonly allowanceMm: { readonly edge: number; readonly face: number };
  readonly blankKg: number;
  /** The lower left corner of the outline's box, in the drawing: where both edges are touched off. */
  readonly datum: Point;
  readonly feed: {
    readonly fromDatum: Point;
    readonly diameterMm: number;
    readonly depthMm: number;
  };
  readonly cutters: readonly ListedCutter[];
  readonly holes: readonly ListedHole[];
  readonly water: readonly {
    readonly diameterMm: number;
    readonly depthMm: number;
    readonly lengthMm: number;
    /** Ends and bends of the axis, from the datum corner. */
    readonly axis: readonly Point[];
  }[];
  readonly depths: readonly ListedDepth[];
  readonly order: readonly WorkStep[];
  /** What thickness readings at the four corners may differ by: the thinnest gap that flashes, as at the bench. */
  readonly parallelMm: number;
  /** Cuts that no usual cutter makes: they are left off the list of cutters. */
  readonly notMachinable: readonly ListedCut[];
}

/** The cutting list of a drawing and its facts. */
export function cuttingList(drawing: MeasuredDrawing, plate: PlateFacts): CuttingList {
  const { min, widthMm, heightMm } = drawing.plate;
  const cuts = milledCuts(drawing, plate);
  const finished = { widthMm, heightMm, thicknessMm: plate.thicknessMm };
  const blank = {
    widthMm: Math.ceil(widthMm + 2 * ALLOWANCE_MM.edge),
    heightMm: Math.ceil(heightMm + 2 * ALLOWANCE_MM.edge),
    thicknessMm: plate.thicknessMm + 2 * ALLOWANCE_MM.face,
  };
  const volumeMm3 = blank.widthMm * blank.heightMm * blank.thicknessMm;
  const holes = listedHoles(drawing, plate);
  const vents = cuts.some(({ feature }) => feature === 'vent');
  return {
    alloy: plate.alloy,
    blank,
    finished,
    allowanceMm: ALLOWANCE_MM,
    blankKg: (volumeMm3 * ALLOY_FACTS[plate.alloy].densityKgPerM3.value) / 1e9,
    datum: min,
    feed: {
      fromDatum: from(min, drawing.feed.at),
      diameterMm: drawing.feed.diameterMm,
      depthMm: drawing.feed.depthMm,
    },
    cutters: listedCutters(cuts),
    holes,
    water: drawing.water.map(({ diameterMm, depthMm, path }) => ({
      diameterMm,
      depthMm,
      lengthMm: lengthOf(path),
      axis: path.map((at) => from(min, at)),
    })),
    depths: cuts.map(({ feature, depthMm, corners, cutterMm, staysMm }) => ({
      feature,
      depthMm,
      toleranceMm: DEPTH_TOLERANCE_MM[feature],
      deeperMm: feature === 'vent' ? 0 : DEPTH_TOLERANCE_MM[feature],
      cornerRadiusMm: corners.length > 0 && cutterMm !== null ? cutterMm / 2 : null,
      staysMm,
    })),
    order: STEPS_OF_WORK.filter(
      (step) =>
        (step !== 'sinks' || holes.some(({ sink }) => sink !== null)) &&
        (step !== 'dowels' || drawing.dowels.length > 0) &&
        (step !== 'water' || drawing.water.length > 0) &&
        (step !== 'openings' || drawing.plate.openings.length > 0) &&
        (step !== 'vents' || vents),
    ),
    parallelMm: USUAL_FLASH_GAP.minMm,
    notMachinable: cuts
      .filter(({ cutterMm }) => cutterMm === null)
      .map(({ feature, depthMm }) => ({ feature, depthMm })),
  };
}

/** Roughing first, then finishing; thick before thin; one line for each cutter that is clamped. Vents come last. */
function listedCutters(cuts: readonly MilledCut[]): readonly ListedCutter[] {
  const uses = cuts.flatMap((cut) => [...roughing(cut), ...finishing(cut)]);
  const lines = new Map<string, Use[]>();
  for (const use of uses) {
    const key = [use.use, use.form, use.diameterMm, use.taperDeg, use.cut.feature === 'vent'].join();
    lines.set(key, [...(lines.get(key) ?? []), use]);
  }
  return [...lines.values()].sort(inOrder).map(([first, ...others], i) => {
    const { use, form, diameterMm, taperDeg } = first as Use;
    const all = [first as Use, ...others];
    const deepestMm = Math.max(...all.map(({ cut }) => cut.depthMm));
    return {
      number: i + 1,
      use,
      form,
      diameterMm,
      taperDeg,
      stickOutMm: Math.ceil(deepestMm + HOLDER_CLEAR_MM),
      depthToDiameter: deepestMm / diameterMm,
      isLong: deepestMm > reachOf(diameterMm),
      isGiven: all.some(({ isGiven }) => isGiven),
      cuts: all.map(({ cut: { feature, depthMm } }) => ({ feature, depthMm })),
    };
  });
}

interface Use {
  readonly use: ListedCutter['use'];
  readonly form: CutterForm;
  readonly diameterMm: number;
  readonly taperDeg: number;
  readonly isGiven: boolean;
  readonly cut: MilledCut;
}

function inOrder([one]: readonly Use[], [other]: readonly Use[]): number {
  if (one === undefined || other === undefined) return 0;
  const rank = ({ use, cut }: Use) => (cut.feature === 'vent' ? 2 : use === 'rough' ? 0 : 1);
  return rank(one) - rank(other) || other.diameterMm - one.diameterMm || one.taperDeg - other.taperDeg;
}

function finishing(cut: MilledCut): readonly Use[] {
  const { cutterMm, form, cutterIsGiven } = cut;
  if (cutterMm === null) return [];
  const { form: shape, taperDeg } = form;
  return [{ use: 'finish', form: shape, diameterMm: cutterMm, taperDeg, isGiven: cutterIsGiven, cut }];
}

/** A flat cutter as stout as finishes it, or stouter, takes most of the metal out first, where one has room and the cut is deep enough to be worth it. */
function roughing(cut: MilledCut): readonly Use[] {
  const { cutterMm, floorWidthMm, depthMm } = cut;
  if (cutterMm === null || depthMm < cutterMm / 2) return [];
  const room = thickestUpTo(Math.min(ROUGH_MOST_MM, (floorWidthMm ?? ROUGH_MOST_MM) - ROUGH_LEAVES_MM));
  if (room === null || room.reachMm < depthMm || room.diameterMm < cutterMm) return [];
  return [{ use: 'rough', form: 'flat', diameterMm: room.diameterMm, taperDeg: 0, isGiven: false, cut }];
}

/** Left on the walls for the finishing cut, both sides together, mm. Common practice, no source. */
const ROUGH_LEAVES_MM = 0.4;

function listedHoles(drawing: MeasuredDrawing, plate: PlateFacts): readonly ListedHole[] {
  const { min } = drawing.plate;
  const place = (at: Point) => ({ at, fromDatum: from(min, at), fromFeed: from(drawing.feed.at, at) });
  const bolts = drawing.bolts.map(({ at, diameterMm }, bolt): ListedHole => {
    const screw = screwOfBolt(plate, drawing.bolts, bolt);
    return {
      number: bolt + 1,
      kind: 'bolt',
      ...place(at),
      drillMm: diameterMm,
      screw: { size: screw.size, lengthMm: screw.lengthMm },
      series: clearanceSeries(screw.size, diameterMm),
      sink: sinkOf(drawing, screw, bolt),
    };
  });
  const dowels = drawing.dowels.map(
    ({ at, diameterMm }, i): ListedHole => ({
      number: bolts.length + i + 1,
      kind: 'dowel',
      ...place(at),
      drillMm: diameterMm,
      screw: null,
      series: null,
      sink: null,
    }),
  );
  return [...bolts, ...dowels];
}

function sinkOf(
  { sinks }: MeasuredDrawing,
  { size, headSinkDepthMm, headSinkDiameterMm }: PlateFacts['screw'],
  bolt: number,
): ListedHole['sink'] {
  const drawn = sinks.find((sink) => sink.bolt === bolt);
  if (drawn !== undefined) return { diameterMm: drawn.diameterMm, depthMm: drawn.depthMm, drawn: true };
  if (headSinkDepthMm === null || headSinkDepthMm <= 0) return null;
  const known = screwSize(size);
  const usualMm = known === null ? 0 : CAP_SCREWS[known].counterbore.diameterMm;
  return { diameterMm: headSinkDiameterMm ?? usualMm, depthMm: headSinkDepthMm, drawn: false };
}

function from(origin: Point, at: Point): Point {
  return { x: at.x - origin.x, y: at.y - origin.y };
}

function lengthOf(path: readonly Point[]): number {
  return path.reduce((total, point, i) => {
    const before = path[i - 1];
    return before === undefined ? total : total + Math.hypot(point.x - before.x, point.y - before.y);
  }, 0);
}
