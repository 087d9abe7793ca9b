import type { Basis, Verdict } from '../finding.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { type ScrewSize, threadDiametersMm } from './fasteners/iso-261-threads.js';
import { CAP_SCREWS, CAP_SCREWS_SOURCE } from './fasteners/iso-4762-screws.js';
import {
  clearanceHoleLimits,
  type FlashGap,
  type MeasuredLength,
  PRACTICE,
  READING_BANDS,
} from './reading-limits.js';
import { sprueAtStack } from './sprue-at-stack.js';

/** What was measured on a finished plate, mm; null where it was not. */
export interface PlateReadings {
  /** At the four corners. */
  readonly thicknessMm: readonly [number, number, number, number] | null;
  readonly holes: readonly {
    /** As the drawing's holes are numbered, from 1. */
    readonly hole: number;
    readonly diameterMm: number | null;
    readonly sinkDiameterMm: number | null;
    readonly sinkDepthMm: number | null;
  }[];
  readonly feedDiameterMm: number | null;
  readonly feedDepthMm: number | null;
}

/** A bolt hole as it is drawn, with the tapped hole that its screw goes into, mm. */
export interface DrawnHole {
  readonly screw: ScrewSize;
  readonly screwLengthMm: number;
  readonly diameterMm: number;
  /** 0 when the head is not sunk. */
  readonly sinkDepthMm: number;
  readonly sinkDiameterMm: number | null;
  readonly tappedDepthMm: number | null;
}

/** What the readings are held against. */
export interface PlateAsDrawn {
  readonly plate: Pick<PlateFacts, 'thicknessMm' | 'facingThicknessMm' | 'packerThicknessMm'>;
  readonly bolster: Pick<BolsterFacts, 'minimumDaylightMm' | 'largestStackMm' | 'sprue'>;
  readonly holes: readonly DrawnHole[];
  /** Diameter null where the feed is drawn as a point, which is as wide as the sprue's end. */
  readonly feed: { readonly diameterMm: number | null; readonly depthMm: number } | null;
  readonly flashGap: FlashGap;
}

export type ReadingCheck =
  | MeasuredLength
  | 'parallelism'
  | 'minimum-daylight'
  | 'largest-stack'
  | 'screw-end';

export type ReadingSituation =
  | 'agrees'
  | 'differs'
  | 'contradicts'
  | 'in-inches'
  | 'not-drawn'
  | 'inside'
  | 'beyond'
  | 'far-beyond';

/** One reading, or what follows from some, judged. Lengths in mm. */
export interface JudgedReading {
  readonly check: ReadingCheck;
  /** Where the reading was given: `thicknessMm.0`, `holes.2.sinkDepthMm`; the field of the whole for what follows. */
  readonly field: string;
  /** The hole's number, where it is one's. */
  readonly hole: number | null;
  readonly verdict: Verdict;
  readonly situation: ReadingSituation;
  readonly figureMm: number;
  /** What the drawing says; null for what is not drawn. */
  readonly drawnMm: number | null;
  /** The limit that decides; for a reading that agrees with its drawing, or does not, the band around it. */
  readonly limitMm: number;
  readonly allowed: 'at-least' | 'at-most' | 'within';
  /** What was meant, of a reading in inches. */
  readonly meantMm: number | null;
  readonly source: string;
  readonly basis: Basis;
}

/** Below what a caliper shows and a float keeps. */
const TIDY_MM = 1e-6;
const MM_PER_INCH = 25.4;

/**
 * Judges what was measured on a plate: each reading against its drawing, and what follows from them against the
 * screws (ISO 273 holes, ISO 4762 heads), the bolster's daylight, and a flash gap. A reading outside its band
 * contradicts the drawing (stop); within it, off by more than usual, it is a caution. A reading that fits once it is
 * read in inches is told as one, and judged no further.
 */
export function judgeReadings(readings: PlateReadings, drawn: PlateAsDrawn): readonly JudgedReading[] {
  const { thicknessMm } = readings;
  const corners = (thicknessMm ?? []).map((mm, i) =>
    againstDrawing('thickness', `thicknessMm.${i}`, mm, drawn.plate.thicknessMm),
  );
  const inInches = corners.some(({ situation }) => situation === 'in-inches');
  return [
    ...corners,
    ...(thicknessMm === null || inInches ? [] : ofAllCorners(thicknessMm, drawn)),
    ...readings.holes.flatMap((hole, i) => ofHole(hole, i, readings, drawn)),
    ...ofFeed(readings, drawn),
  ];
}

/** What the four corners say together. */
function ofAllCorners(
  thicknessMm: readonly number[],
  { plate, bolster, flashGap }: PlateAsDrawn,
): readonly JudgedReading[] {
  const leastMm = Math.min(...thicknessMm);
  const mostMm = Math.max(...thicknessMm);
  const besideMm = plate.facingThicknessMm + plate.packerThicknessMm;
  const machine = { source: "the machine's own limit", basis: 'machine' } as const;
  return [
    parallelism(tidy(mostMm - leastMm), flashGap),
    limited('minimum-daylight', 'thicknessMm', tidy(leastMm + besideMm), {
      atLeastMm: bolster.minimumDaylightMm,
      ...machine,
    }),
    limited('largest-stack', 'thicknessMm', tidy(mostMm + besideMm), {
      atMostMm: bolster.largestStackMm,
      ...machine,
    }),
  ];
}

/**
 * Largest less smallest thickness: platens that stay parallel leave that gap over the thin corner. A gap known from
 * practice cautions; beyond twice the widest of it no resin can be expected to stay in.
 */
function parallelism(figureMm: number, { minMm, maxMm }: FlashGap): JudgedReading {
  const farMm = 2 * maxMm;
  const far = figureMm > farMm + TIDY_MM;
  const beyond = figureMm > minMm + TIDY_MM;
  return {
    ...plain('parallelism', 'thicknessMm', figureMm),
    verdict: far ? 'stop' : beyond ? 'caution' : 'clear',
    situation: far ? 'far-beyond' : beyond ? 'beyond' : 'inside',
    limitMm: far ? farMm : minMm,
    allowed: 'at-most',
  };
}

function ofHole(
  reading: PlateReadings['holes'][number],
  i: number,
  { thicknessMm }: PlateReadings,
  drawn: PlateAsDrawn,
): readonly JudgedReading[] {
  const { hole, diameterMm, sinkDiameterMm, sinkDepthMm } = reading;
  const asDrawn = drawn.holes[hole - 1];
  if (asDrawn === undefined) {
    const notDrawn = plain('hole', `holes.${i}.hole`, diameterMm ?? sinkDepthMm ?? sinkDiameterMm ?? 0);
    const limitMm = drawn.holes.length;
    return [{ ...notDrawn, hole, verdict: 'stop', situation: 'not-drawn', limitMm, allowed: 'at-most' }];
  }
  const under = (name: string) => `holes.${i}.${name}`;
  const judged: JudgedReading[] = [];
  if (diameterMm !== null) judged.push(holeDiameter(under('diameterMm'), diameterMm, asDrawn));
  if (sinkDiameterMm !== null) judged.push(sinkDiameter(under('sinkDiameterMm'), sinkDiameterMm, asDrawn));
  if (sinkDepthMm !== null) {
    const depth = sinkDepth(under('sinkDepthMm'), sinkDepthMm, asDrawn);
    judged.push(depth);
    if (depth.situation !== 'in-inches') {
      const least = thicknessMm === null ? drawn.plate.thicknessMm : Math.min(...thicknessMm);
      judged.push(...screwEnd(under('sinkDepthMm'), sinkDepthMm, least, asDrawn, drawn));
    }
  }
  return judged.map((one) => ({ ...one, hole }));
}

/** The screw has to go through (its own diameter), should do so with room (ISO 273 fine), and not swim (coarse). */
function holeDiameter(field: string, mm: number, { screw, diameterMm }: DrawnHole): JudgedReading {
  const nominalMm = threadDiametersMm(screw).nominal;
  const { minMm, maxMm } = clearanceHoleLimits(screw);
  const iso = { source: 'ISO 273:1979', basis: 'sourced' } as const;
  const limit =
    mm < nominalMm + TIDY_MM
      ? limited('hole', field, mm, { atLeastMm: nominalMm, ...iso, verdict: 'stop', strictly: true })
      : mm < minMm - TIDY_MM
        ? limited('hole', field, mm, { atLeastMm: minMm, ...iso, verdict: 'caution' })
        : limited('hole', field, mm, { atMostMm: maxMm, ...iso, verdict: 'caution' });
  return worse(againstDrawing('hole', field, mm, diameterMm), limit);
}

/** The head goes in; a knurled one with room. */
function sinkDiameter(field: string, mm: number, { screw, sinkDiameterMm }: DrawnHole): JudgedReading {
  const { headDiameterMm, knurledHeadDiameterMm } = CAP_SCREWS[screw];
  const iso = { source: CAP_SCREWS_SOURCE, basis: 'sourced' } as const;
  const limit =
    mm < headDiameterMm - TIDY_MM
      ? limited('sink-diameter', field, mm, { atLeastMm: headDiameterMm, ...iso })
      : limited('sink-diameter', field, mm, {
          atLeastMm: knurledHeadDiameterMm,
          ...iso,
          verdict: 'caution',
        });
  return sinkDiameterMm === null
    ? limit
    : worse(againstDrawing('sink-diameter', field, mm, sinkDiameterMm), limit);
}

/** The head lies below the parting face. */
function sinkDepth(field: string, mm: number, { screw, sinkDepthMm }: DrawnHole): JudgedReading {
  const limit = limited('sink-depth', field, mm, {
    atLeastMm: CAP_SCREWS[screw].headHeightMm,
    source: CAP_SCREWS_SOURCE,
    basis: 'sourced',
  });
  return worse(againstDrawing('sink-depth', field, mm, sinkDepthMm), limit);
}

/** A screw that ends on the bottom of its hole holds nothing: length - metal under the head - packer against it. */
function screwEnd(
  field: string,
  depthMm: number,
  thicknessMm: number,
  { screwLengthMm, tappedDepthMm }: DrawnHole,
  { plate }: PlateAsDrawn,
): readonly JudgedReading[] {
  if (tappedDepthMm === null) return [];
  const engagedMm = tidy(screwLengthMm - (thicknessMm - depthMm) - plate.packerThicknessMm);
  const machine = { source: "the machine's own limit", basis: 'machine' } as const;
  return [limited('screw-end', field, engagedMm, { atMostMm: tappedDepthMm, ...machine })];
}

function ofFeed(
  { feedDiameterMm, feedDepthMm }: PlateReadings,
  { feed, bolster, plate }: PlateAsDrawn,
): readonly JudgedReading[] {
  const judged: JudgedReading[] = [];
  const sprueMm = tidy(sprueAtStack(bolster, plate).endDiameterMm);
  if (feedDiameterMm !== null) {
    const drawn = againstDrawing('feed', 'feedDiameterMm', feedDiameterMm, feed?.diameterMm ?? sprueMm);
    const machine = { source: "the machine's own limit", basis: 'machine' } as const;
    judged.push(
      worse(drawn, limited('feed', 'feedDiameterMm', feedDiameterMm, { atLeastMm: sprueMm, ...machine })),
    );
  }
  if (feedDepthMm !== null && feed !== null)
    judged.push(againstDrawing('feed-depth', 'feedDepthMm', feedDepthMm, feed.depthMm));
  return judged;
}

/** A reading against what is drawn, in its band. */
function againstDrawing(
  check: MeasuredLength,
  field: string,
  figureMm: number,
  drawnMm: number,
): JudgedReading {
  const { agreesMm, contradictsMm } = READING_BANDS[check];
  const offMm = Math.abs(figureMm - drawnMm);
  const inMm = figureMm * MM_PER_INCH;
  const judged = { ...plain(check, field, figureMm), drawnMm, allowed: 'within' } as const;
  if (offMm <= agreesMm + TIDY_MM)
    return { ...judged, verdict: 'clear', situation: 'agrees', limitMm: agreesMm };
  if (offMm <= contradictsMm + TIDY_MM)
    return { ...judged, verdict: 'caution', situation: 'differs', limitMm: agreesMm };
  if (Math.abs(inMm - drawnMm) <= contradictsMm + TIDY_MM) {
    const meantMm = Math.round(inMm * 10) / 10;
    return { ...judged, verdict: 'stop', situation: 'in-inches', limitMm: contradictsMm, meantMm };
  }
  return { ...judged, verdict: 'stop', situation: 'contradicts', limitMm: contradictsMm };
}

interface Limit extends Pick<JudgedReading, 'source' | 'basis'> {
  readonly atLeastMm?: number;
  readonly atMostMm?: number;
  /** What it is beyond the limit; stop unless stated. */
  readonly verdict?: Verdict;
  /** The limit itself is beyond it. */
  readonly strictly?: boolean;
}

/** A length against a limit on one side. */
function limited(check: ReadingCheck, field: string, figureMm: number, limit: Limit): JudgedReading {
  const { atLeastMm, atMostMm, verdict = 'stop', strictly = false, source, basis } = limit;
  const slackMm = strictly ? -TIDY_MM : TIDY_MM;
  const beyond =
    (atLeastMm !== undefined && figureMm < atLeastMm - slackMm) ||
    (atMostMm !== undefined && figureMm > atMostMm + slackMm);
  return {
    ...plain(check, field, figureMm),
    verdict: beyond ? verdict : 'clear',
    situation: beyond ? 'beyond' : 'inside',
    limitMm: atLeastMm ?? atMostMm ?? 0,
    allowed: atLeastMm !== undefined ? 'at-least' : 'at-most',
    source,
    basis,
  };
}

function plain(check: ReadingCheck, field: string, figureMm: number) {
  const nothing = { hole: null, drawnMm: null, meantMm: null } as const;
  return { check, field, figureMm, ...nothing, source: PRACTICE, basis: 'practice' } as const;
}

const WORSE_AND_WORSE: readonly Verdict[] = ['clear', 'caution', 'stop'];

/** The worse of two judgements of one reading; one in inches is told first, and of equals what the drawing says. */
function worse(drawing: JudgedReading, limit: JudgedReading): JudgedReading {
  if (drawing.situation === 'in-inches') return drawing;
  const isWorse = WORSE_AND_WORSE.indexOf(limit.verdict) > WORSE_AND_WORSE.indexOf(drawing.verdict);
  return isWorse ? { ...limit, drawnMm: drawing.drawnMm } : drawing;
}

function tidy(mm: number): number {
  return Math.round(mm * 1e6) / 1e6;
}
