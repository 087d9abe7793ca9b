import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Point } from '../geometry/point.js';
import type { BolsterFacts, PlateFacts, ScrewFacts } from '../press-facts.js';
import { type ScrewSize, screwSize, threadDiameterMm } from './fasteners/iso-261-threads.js';
import { CAP_SCREWS } from './fasteners/iso-4762-screws.js';
import type { Registration } from './registration-result.js';
import { screwGroupOf, screwOfGroup } from './screw-of-bolt.js';

/** What the screws of a plate are judged from. */
export interface ScrewsInput {
  readonly drawing: Pick<MeasuredDrawing, 'bolts' | 'sinks'>;
  readonly plate: PlateFacts;
  readonly bolster: BolsterFacts;
  readonly registration: Registration;
}

/** A finding about screws that the drawing has no holes for. */
export const NO_SCREWS = {
  verdict: 'unknown',
  situation: 'no-screws',
  figure: null,
  limit: null,
  allowed: null,
  margin: null,
  figures: {},
  places: [],
  cures: [],
} as const;

/** How one screw sits: its sink in the plate and its tapped hole in the bolster, mm. */
export interface ScrewSeat {
  /** Index into the drawing's bolts. */
  readonly bolt: number;
  /** Index into the plate's screw groups; null for the screw of all other holes. */
  readonly group: number | null;
  readonly at: Point;
  readonly holeDiameterMm: number;
  /** 0 when the head is not sunk. */
  readonly sinkDepthMm: number;
  /** Null when the head is not sunk. */
  readonly sinkDiameterMm: number | null;
  readonly sinkDrawn: boolean;
  /** Depth of the tapped hole it goes into; the shallowest of that thread when the hole has no partner. */
  readonly tappedDepthMm: number | null;
  /** How far the screw stands off the middle of its hole, mm. */
  readonly offCentreMm: number;
}

/**
 * Every screw of the plate. A SINK contour wins over the sink that is given for all screws; without either the head
 * is not sunk. A sink given by its depth alone has the counterbore's usual diameter (DIN 974-1).
 */
export function screwSeats(
  drawing: ScrewsInput['drawing'],
  plate: PlateFacts,
  bolster: BolsterFacts,
  registration: Registration,
): readonly ScrewSeat[] {
  return drawing.bolts.map(({ at, diameterMm }, bolt) => {
    const match = registration.matches.find((candidate) => candidate.bolt === bolt);
    const partner = bolster.holes[match?.hole ?? -1];
    const group = screwGroupOf(plate, drawing.bolts, bolt);
    const screw = screwOfGroup(plate, group);
    return {
      bolt,
      group,
      at,
      holeDiameterMm: diameterMm,
      ...sinkOf(drawing, screw, bolt),
      tappedDepthMm: partner?.depthMm ?? shallowestMm(bolster, screw),
      offCentreMm: match?.matched === true ? match.errorMm : 0,
    };
  });
}

/** The size as the tables have it. @throws RangeError for a screw that is not in them */
export function knownScrew(plate: Pick<PlateFacts, 'screw'>): ScrewSize {
  const size = screwSize(plate.screw.size);
  if (size === null) throw new RangeError(`no screw ${plate.screw.size}`);
  return size;
}

function sinkOf({ sinks }: Pick<MeasuredDrawing, 'sinks'>, screw: ScrewFacts, bolt: number) {
  const drawn = sinks.find((sink) => sink.bolt === bolt);
  if (drawn !== undefined) {
    return { sinkDepthMm: drawn.depthMm, sinkDiameterMm: drawn.diameterMm, sinkDrawn: true };
  }
  const { headSinkDepthMm, headSinkDiameterMm } = screw;
  if (headSinkDepthMm === null || headSinkDepthMm <= 0) {
    return { sinkDepthMm: 0, sinkDiameterMm: null, sinkDrawn: false };
  }
  const usualMm = CAP_SCREWS[knownScrew({ screw })].counterbore.diameterMm;
  return { sinkDepthMm: headSinkDepthMm, sinkDiameterMm: headSinkDiameterMm ?? usualMm, sinkDrawn: false };
}

function shallowestMm(bolster: BolsterFacts, screw: ScrewFacts): number | null {
  const screwMm = threadDiameterMm(screw.size);
  const depths = bolster.holes.flatMap(({ thread, depthMm }) =>
    threadDiameterMm(thread) === screwMm ? [depthMm] : [],
  );
  return depths.length === 0 ? null : Math.min(...depths);
}
