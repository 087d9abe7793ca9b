import type { z } from 'zod';
import { isSameDrawing } from '../../engineering/drawing/difference.js';
import type { Hole, HoleChange } from '../../engineering/drawing/holes-changed.js';
import { areaOf } from '../../engineering/geometry/area.js';
import type { DifferenceAnswer } from '../checking-house.js';
import type { Comparison, SideCompared } from './compare-plate.js';
import type { comparisonReply } from './schemas.js';

/** A comparison as the service answers it, lengths and areas rounded to what means something. */
export function comparisonView(comparison: Comparison): z.output<typeof comparisonReply> {
  const { plate, from, to, findings, facts, drawing } = comparison;
  return {
    plateId: plate.id,
    from: sideView(from),
    to: sideView(to),
    findings: [...findings],
    facts: facts.map(({ fact, from: was, to: is }) => ({ fact, from: was, to: is })),
    drawing: drawing === null ? null : drawingView(drawing),
  };
}

function sideView({ revision: { revision }, polymer, report: { bolster, verdict } }: SideCompared) {
  return { revision, polymer, bolster, verdict };
}

function drawingView({ difference }: DifferenceAnswer) {
  const { alignment, cuts, bolts, dowels, outline, water, feed, figures } = difference;
  return {
    same: isSameDrawing(difference),
    laidBy: alignment.by,
    turnedDeg: alignment.turnedDeg,
    cuts: cuts.map(({ change, feature, fromMm, toMm, areaMm2, pieces }) => ({
      change,
      feature,
      fromMm,
      toMm,
      areaMm2: rounded(areaMm2),
      pieces,
    })),
    bolts: bolts.map(holeView),
    dowels: dowels.map(holeView),
    outlineAddedMm2: rounded(areaOf(outline.added)),
    outlineRemovedMm2: rounded(areaOf(outline.removed)),
    waterAddedMm2: rounded(areaOf(water.added)),
    waterRemovedMm2: rounded(areaOf(water.removed)),
    feed: feed && { movedMm: rounded(feed.movedMm), from: placeView(feed.from), to: placeView(feed.to) },
    figures: figures.map(({ figure, from, to }) => ({ figure, from: rounded(from), to: rounded(to) })),
  };
}

function holeView({ change, from, to, movedMm }: HoleChange) {
  return { change, from: from && placeView(from), to: to && placeView(to), movedMm: rounded(movedMm) };
}

function placeView({ at, diameterMm }: Hole) {
  return { xMm: rounded(at.x), yMm: rounded(at.y), diameterMm: rounded(diameterMm) };
}

/** To a micrometre, and of areas to a thousandth of a square millimetre. */
function rounded(value: number): number {
  return Math.round(value * 1000) / 1000;
}
