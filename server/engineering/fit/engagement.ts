import { alloyFacts } from '../materials/alloys.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { threadDiameterMm } from './fasteners/iso-261-threads.js';
import { CAP_SCREWS } from './fasteners/iso-4762-screws.js';
import { screwOfGroup } from './screw-of-bolt.js';
import { knownScrew, type ScrewSeat } from './screw-seats.js';

/** Least engagement in screw diameters. */
const ENGAGEMENT_IN_STEEL = {
  timesDiameter: 1,
  source: '1.0 d for 8.8 in a steel tapped hole: mastik.pt catalogue p. 677',
} as const;
const ENGAGEMENT_IN_SOFT_METAL = {
  timesDiameter: 1.5,
  source:
    '1.5 d in aluminium, between 1.24 d computed for 8.8 in 6082 (ASME B1.1 form) and 1.6 d of the Roloff/Matek table',
} as const;

/** Thread in the bolster, and what is allowed: at least so much, and no deeper than the hole is tapped, mm. */
export interface Engagement {
  readonly seat: ScrewSeat;
  readonly engagedMm: number;
  readonly leastMm: number;
  readonly mostMm: number | null;
  /** To the nearer limit; negative when past it. */
  readonly marginMm: number;
}

/** Thread the screw finds in the bolster: length - (thickness - sink) - packer, mm. Not positive: it never reaches. */
function engagedMm(plate: PlateFacts, lengthMm: number, sinkDepthMm: number): number {
  return lengthMm - (plate.thicknessMm - sinkDepthMm) - plate.packerThicknessMm;
}

/** The rule for the bolster's face: steel, or anything softer. A material the table does not know counts as soft. */
export function engagementRule(bolster: BolsterFacts) {
  return alloyFacts(bolster.faceMaterial)?.soft === false ? ENGAGEMENT_IN_STEEL : ENGAGEMENT_IN_SOFT_METAL;
}

/** Engagement of every screw, the one with the least margin first. */
export function engagements(
  seats: readonly ScrewSeat[],
  plate: PlateFacts,
  bolster: BolsterFacts,
): readonly Engagement[] {
  const { timesDiameter } = engagementRule(bolster);
  return seats
    .map((seat) => {
      const { size, lengthMm } = screwOfGroup(plate, seat.group);
      const leastMm = timesDiameter * (threadDiameterMm(size) ?? 0);
      const engaged = engagedMm(plate, lengthMm, seat.sinkDepthMm);
      const mostMm = seat.tappedDepthMm;
      const roomMm = mostMm === null ? Number.POSITIVE_INFINITY : mostMm - engaged;
      return { seat, engagedMm: engaged, leastMm, mostMm, marginMm: Math.min(engaged - leastMm, roomMm) };
    })
    .sort((one, other) => one.marginMm - other.marginMm);
}

/** The standard length nearest to the one in hand that suits every screw, mm; null when no length does. */
export function rightScrewLengthMm(
  seats: readonly ScrewSeat[],
  plate: PlateFacts,
  bolster: BolsterFacts,
): number | null {
  const suits = (lengthMm: number) => {
    const tried = { ...plate, screw: { ...plate.screw, lengthMm } };
    return engagements(seats, tried, bolster).every(({ marginMm }) => marginMm >= 0);
  };
  const lengths = CAP_SCREWS[knownScrew(plate)].lengthsMm.filter(suits);
  const apart = (lengthMm: number) => Math.abs(lengthMm - plate.screw.lengthMm);
  return lengths.reduce<number | null>(
    (best, lengthMm) => (best === null || apart(lengthMm) < apart(best) ? lengthMm : best),
    null,
  );
}

/** The screw's length stays when it still does; otherwise the nearest that does, or null when none does. */
export function screwForChange(
  seats: readonly ScrewSeat[],
  changed: PlateFacts,
  bolster: BolsterFacts,
): { readonly lengthMm: number; readonly engagedMm: number } | null {
  const stays = engagements(seats, changed, bolster).every(({ marginMm }) => marginMm >= 0);
  const lengthMm = stays ? changed.screw.lengthMm : rightScrewLengthMm(seats, changed, bolster);
  if (lengthMm === null) return null;
  const least = engagements(seats, { ...changed, screw: { ...changed.screw, lengthMm } }, bolster)[0];
  return least === undefined ? null : { lengthMm, engagedMm: least.engagedMm };
}
