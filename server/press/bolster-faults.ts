import { threadDiameterMm } from '../engineering/fit/fasteners/iso-261-threads.js';
import { boundsOfPoints } from '../engineering/geometry/bounds.js';
import { distanceToPoint } from '../engineering/geometry/distance.js';
import type { Point } from '../engineering/geometry/point.js';
import { selfCrossingOf } from '../engineering/geometry/self-crossing.js';
import type { BolsterFacts } from '../engineering/press-facts.js';
import type { Reason } from '../reasons.js';

/** Enough to mend a table by; a thousand holes beside the face are one mistake. */
const REASONS_MAX = 20;

/** Two lines of a table this near say the same hole, mm. */
const SAME_PLACE_MM = 0.01;

/** What a bolster cannot be, each with its place; empty for one that can. */
export function bolsterFaults(facts: BolsterFacts): readonly Reason[] {
  return [...figureFaults(facts), ...holeFaults(facts), ...openingFaults(facts)].slice(0, REASONS_MAX);
}

function figureFaults(facts: BolsterFacts): readonly Reason[] {
  const { face, sprue, minimumDaylightMm, largestStackMm } = facts;
  const reasons: Reason[] = [];
  if (minimumDaylightMm >= largestStackMm) {
    const figures = { minimumDaylightMm, largestStackMm };
    reasons.push({ code: 'bolster-stack-backwards', field: 'largestStackMm', figures });
  }
  if (sprue.nozzleEndDiameterMm > sprue.partingFaceDiameterMm) {
    reasons.push({ code: 'bolster-sprue-narrows', field: 'spruePartingFaceMm' });
  }
  if (beyondFace({ x: 0, y: 0 }, sprue.partingFaceDiameterMm / 2, face) > 0) {
    reasons.push({ code: 'bolster-sprue-off-face', field: 'faceCentreXMm' });
  }
  return reasons;
}

function holeFaults(facts: BolsterFacts): readonly Reason[] {
  const { holes, face, faceOpenings, halfThicknessMm } = facts;
  if (holes.length === 0) return [{ code: 'bolster-no-holes', field: 'holes' }];
  const reasons: Reason[] = [];
  for (const [i, { at, thread, depthMm }] of holes.entries()) {
    const radiusMm = radiusOf(thread);
    const hole = { field: 'holes', place: placeOf(at) };
    const beyondMm = beyondFace(at, radiusMm, face);
    if (beyondMm > 0) {
      reasons.push({ code: 'bolster-hole-off-face', ...hole, figures: { thread, mm: rounded(beyondMm) } });
    }
    const open = distanceToPoint(faceOpenings, at);
    if (open !== null && open.distanceMm < radiusMm) {
      reasons.push({ code: 'bolster-hole-in-opening', ...hole, figures: { thread } });
    }
    if (halfThicknessMm !== null && depthMm > halfThicknessMm.moving) {
      const figures = { thread, depthMm, halfMm: halfThicknessMm.moving };
      reasons.push({ code: 'bolster-hole-too-deep', ...hole, figures });
    }
    reasons.push(...meeting(holes, i));
    if (reasons.length >= REASONS_MAX) break;
  }
  return reasons;
}

/** Holes later in the table that the one at `i` meets. */
function meeting(holes: BolsterFacts['holes'], i: number): readonly Reason[] {
  const one = holes[i];
  if (one === undefined) return [];
  return holes.slice(i + 1).flatMap((other): readonly Reason[] => {
    const apartMm = Math.hypot(other.at.x - one.at.x, other.at.y - one.at.y);
    const neededMm = radiusOf(one.thread) + radiusOf(other.thread);
    if (apartMm >= neededMm) return [];
    const hole = { field: 'holes', place: placeOf(one.at) };
    if (apartMm <= SAME_PLACE_MM) return [{ code: 'bolster-hole-twice', ...hole }];
    const figures = { apartMm: rounded(apartMm), otherXMm: other.at.x, otherYMm: other.at.y };
    return [{ code: 'bolster-holes-overlap', ...hole, figures }];
  });
}

function openingFaults({ faceOpenings, face }: BolsterFacts): readonly Reason[] {
  return faceOpenings.flatMap((ring): readonly Reason[] => {
    const [first] = ring;
    if (first === undefined || ring.length < 3) return [{ code: 'bolster-opening-open', field: 'openings' }];
    const crossing = selfCrossingOf(ring);
    if (crossing !== null) {
      return [{ code: 'bolster-opening-crosses', field: 'openings', place: placeOf(crossing) }];
    }
    const off = ring.find((point) => beyondFace(point, 0, face) > 0);
    if (off === undefined) return [];
    const { minX, maxX, minY, maxY } = boundsOfPoints(ring);
    const middle = { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
    return [{ code: 'bolster-opening-off-face', field: 'openings', place: placeOf(middle) }];
  });
}

/** How far a round thing stands out over the edge of the face, mm; zero or less inside it. */
function beyondFace(
  { x, y }: Point,
  radiusMm: number,
  { widthMm, heightMm, centre }: BolsterFacts['face'],
): number {
  const dx = Math.abs(x - centre.x) + radiusMm - widthMm / 2;
  const dy = Math.abs(y - centre.y) + radiusMm - heightMm / 2;
  return Math.max(dx, dy);
}

function radiusOf(thread: string): number {
  return (threadDiameterMm(thread) ?? 0) / 2;
}

function placeOf({ x, y }: Point) {
  return { xMm: rounded(x), yMm: rounded(y) };
}

function rounded(mm: number): number {
  return Math.round(mm * 1000) / 1000;
}
