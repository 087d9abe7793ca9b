import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, Finding } from '../finding.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { inDrawing } from './placing.js';
import { upToTenth } from './plate-with.js';
import type { Registration } from './registration-result.js';
import { feedDiameterMm } from './seat.js';
import { sprueAtStack } from './sprue-at-stack.js';
import { type Unfed, unfedCavities } from './way-of-the-melt.js';

/** A pocket up to this many sprue diameters wide is still worth offering instead of a moved feed. Common practice, no source. */
const WIDEST_POCKET = 2;

/** A drawn circle is measured this closely, mm. */
const MEASURED_MM = 0.01;

/**
 * Does the sprue's end lie inside the feed pocket? The figure is how far the feed is off the sprue, mm: the least
 * with every screw still going in, and where the screws do not allow it, the offset at their best float. A pocket
 * smaller than the sprue's end is an undercut that holds the sprue back; a facing plate makes that end wider.
 * A feed that is right but leads to some cavities only is a caution: nothing is hurt but the shot.
 */
export function checkFeedOnSprue({
  drawing,
  plate,
  registration,
  bolster,
}: {
  readonly drawing: Pick<MeasuredDrawing, 'feed' | 'projected' | 'cavities'>;
  readonly plate: Pick<PlateFacts, 'facingThicknessMm'>;
  readonly registration: Registration;
  readonly bolster: BolsterFacts;
}): Finding {
  const sprueMm = sprueAtStack(bolster, plate).endDiameterMm;
  const pocketMm = feedDiameterMm(drawing, sprueMm);
  const { feedAllowanceMm, feedOffset, placement, feedFits } = registration;
  const figures = {
    pocketMm,
    sprueMm,
    facingThicknessMm: plate.facingThicknessMm,
    feedAllowanceMm,
    pocketFrom: drawing.feed.drawnDiameterMm === null ? 'sprue' : 'drawing',
  };
  const common = {
    check: 'feed-on-sprue',
    unit: 'mm',
    source: 'geometry of feed and sprue',
    basis: 'computed',
  } as const;
  if (pocketMm < sprueMm - MEASURED_MM) {
    return {
      ...common,
      verdict: 'stop',
      situation: 'undercut',
      figure: pocketMm,
      limit: sprueMm,
      allowed: 'at-least',
      margin: pocketMm - sprueMm,
      figures,
      places: [drawing.feed.at],
      cures: [widen(drawing, sprueMm + 2 * Math.hypot(feedOffset?.x ?? 0, feedOffset?.y ?? 0))],
    };
  }
  if (feedOffset === null || placement === null) {
    return {
      ...common,
      verdict: 'unknown',
      situation: 'not-placed',
      figure: null,
      limit: feedAllowanceMm,
      allowed: 'at-most',
      margin: null,
      figures,
      places: [drawing.feed.at],
      cures: [],
    };
  }
  const unfed = feedFits ? unfedCavities(drawing) : null;
  if (unfed !== null) return { ...common, ...notJoined(drawing, unfed, figures) };
  const bestOffMm = Math.hypot(feedOffset.x, feedOffset.y);
  const offMm = feedFits ? (registration.leastFeedOffsetMm ?? bestOffMm) : bestOffMm;
  const inDrawingMm = inDrawing(feedOffset, placement.rotationDeg);
  return {
    ...common,
    verdict: feedFits ? 'clear' : 'stop',
    situation: feedFits ? 'on-sprue' : 'off-sprue',
    figure: offMm,
    limit: feedAllowanceMm,
    allowed: 'at-most',
    margin: feedAllowanceMm - offMm,
    figures: { ...figures, offMm, offXMm: inDrawingMm.x, offYMm: inDrawingMm.y },
    places: [drawing.feed.at],
    cures: feedFits
      ? []
      : [moveFeed(drawing, inDrawingMm, bestOffMm), ...widenFor(drawing, sprueMm, bestOffMm)],
  };
}

function notJoined(
  { cavities }: Pick<MeasuredDrawing, 'cavities'>,
  unfed: Unfed,
  figures: Finding['figures'],
) {
  const fed = cavities.length - unfed.cavities.length;
  return {
    verdict: 'caution',
    situation: 'cavities-not-joined',
    figure: fed,
    limit: cavities.length,
    allowed: 'at-least',
    unit: '',
    margin: fed - cavities.length,
    figures: {
      ...figures,
      cavities: cavities.length,
      fed,
      cavityNumbers: unfed.cavities.map((index) => index + 1),
    },
    places: unfed.cavities.flatMap((index) => cavities[index]?.centroid ?? []),
    cures: unfed.cures,
    source: 'geometry of the cuts',
  } as const;
}

function moveFeed(
  { feed }: Pick<MeasuredDrawing, 'feed'>,
  off: { readonly x: number; readonly y: number },
  offMm: number,
): Cure {
  return {
    code: 'move-feed',
    amount: offMm,
    unit: 'mm',
    figures: { dxMm: -off.x + 0, dyMm: -off.y + 0, toXMm: feed.at.x - off.x, toYMm: feed.at.y - off.y },
    at: feed.at,
  };
}

function widenFor(drawing: Pick<MeasuredDrawing, 'feed'>, sprueMm: number, offMm: number): readonly Cure[] {
  const pocketMm = sprueMm + 2 * offMm;
  return pocketMm <= WIDEST_POCKET * sprueMm ? [widen(drawing, pocketMm)] : [];
}

function widen({ feed }: Pick<MeasuredDrawing, 'feed'>, pocketMm: number): Cure {
  const diameterMm = upToTenth(pocketMm);
  return { code: 'widen-feed', amount: diameterMm, unit: 'mm', figures: { diameterMm }, at: feed.at };
}
