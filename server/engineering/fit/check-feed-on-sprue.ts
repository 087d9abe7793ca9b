import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, Finding } from '../finding.js';
import { feedFault, openRunners } from '../melt/feed-faults.js';
import { type FeedSystem, feedSystem } from '../melt/feed-system.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { inDrawing } from './placing.js';
import { upToTenth } from './plate-with.js';
import type { Registration } from './registration-result.js';
import { feedDiameterMm } from './seat.js';
import { sprueAtStack } from './sprue-at-stack.js';

/** A pocket up to this many sprue diameters wide is still worth offering instead of a moved feed. Common practice, no source. */
const WIDEST_POCKET = 2;

/** A drawn circle is measured this closely, mm. */
const MEASURED_MM = 0.01;

/**
 * Does the sprue's end lie inside the feed pocket? The figure is how far the feed is off the sprue, mm: the least
 * with every screw still going in, and where the screws do not allow it, the offset at their best float. A pocket
 * smaller than the sprue's end is an undercut that holds the sprue back; a facing plate makes that end wider.
 * A feed that is right but leads to some cavities only, and cuts that do not hang on it, are a caution: nothing is hurt
 * but the shot. A runner that opens straight into a cavity is allowed and said: it is the gate, and is cut off by hand.
 */
export function checkFeedOnSprue({
  drawing,
  plate,
  registration,
  bolster,
  feed = feedSystem(drawing),
}: {
  readonly drawing: Pick<MeasuredDrawing, 'feed' | 'ways' | 'cavities' | 'features'>;
  /** Of this drawing, where it is known already. */
  readonly feed?: FeedSystem;
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
  const fault = feedFits ? feedFault(drawing, feed) : null;
  if (fault !== null) {
    const told = { ...fault, figures: { ...figures, ...fault.figures } };
    return { ...common, ...told, source: 'geometry of the cuts' };
  }
  const bestOffMm = Math.hypot(feedOffset.x, feedOffset.y);
  const offMm = feedFits ? (registration.leastFeedOffsetMm ?? bestOffMm) : bestOffMm;
  const straightIn = feedFits ? openRunners(feed) : [];
  const inDrawingMm = inDrawing(feedOffset, placement.rotationDeg);
  return {
    ...common,
    verdict: feedFits ? 'clear' : 'stop',
    situation: feedFits ? (straightIn.length > 0 ? 'runner-opens-in' : 'on-sprue') : 'off-sprue',
    figure: offMm,
    limit: feedAllowanceMm,
    allowed: 'at-most',
    margin: feedAllowanceMm - offMm,
    figures: {
      ...figures,
      offMm,
      offXMm: inDrawingMm.x,
      offYMm: inDrawingMm.y,
      ...(straightIn.length > 0 && {
        cavityNumbers: [...new Set(straightIn.map(({ cavity }) => cavity + 1))],
        inletDepthMm: Math.max(...straightIn.map(({ depthMm }) => depthMm)),
      }),
    },
    places: [...straightIn.map(({ at }) => at), drawing.feed.at],
    cures: feedFits
      ? []
      : [moveFeed(drawing, inDrawingMm, bestOffMm), ...widenFor(drawing, sprueMm, bestOffMm)],
  };
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
