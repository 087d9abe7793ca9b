import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import { threadDiameterMm } from '../fit/fasteners/iso-261-threads.js';
import { areaOf } from '../geometry/area.js';
import { intersectionOf } from '../geometry/boolean.js';
import { boundsMeet, boundsOf } from '../geometry/bounds.js';
import { croppedTo } from '../geometry/crop.js';
import { regionsMeet } from '../geometry/distance.js';
import { leastBox } from '../geometry/least-box.js';
import type { Point, Region } from '../geometry/point.js';
import { interiorPointOf, polygonsOf } from '../geometry/polygons.js';
import type { BolsterFacts } from '../press-facts.js';
import { type Land, toDrawing } from './land.js';
import { holeRegion } from './land-cuts.js';

/** An opening of the bolster's face under melt: the floor above it is not backed. */
export interface OpenSpan {
  readonly kind: 'opening' | 'tapped-hole';
  readonly shape: 'disc' | 'strip';
  readonly spanMm: number;
  /** The deepest cut over it, mm. */
  readonly depthMm: number;
  /** On the drawing. */
  readonly at: Point;
}

/** An area of the melt smaller than this over an opening is the grid's doing, mm2. */
const TOUCH_MM2 = 0.01;
/** A round opening fills its box as a circle does, flattened edges allowed for. */
const ROUND_BOX = 1.03;
const ROUND_SHARE = [0.97, 1.01] as const;

/** Every opening and tapped hole of the face that melt crosses, with the plate placed as its land says. */
export function openSpans(
  drawing: Pick<MeasuredDrawing, 'moulded' | 'feed'>,
  bolster: Pick<BolsterFacts, 'faceOpenings' | 'holes'>,
  land: Pick<Land, 'placement'>,
): readonly OpenSpan[] {
  const onDrawing = (point: Point) => toDrawing(point, land, drawing.feed.at);
  const levels = drawing.moulded.levels.map((level) => ({ ...level, bounds: boundsOf(level.region) }));
  const over = (region: Region) => {
    const bounds = boundsOf(region);
    const crossed = levels
      .filter((level) => boundsMeet(level.bounds, bounds) && regionsMeet(level.region, region))
      .map(({ depthMm, region: cut }) => ({
        depthMm,
        common: intersectionOf(region, croppedTo(cut, bounds)),
      }))
      .filter(({ common }) => areaOf(common) > TOUCH_MM2);
    return crossed.reduce<(typeof crossed)[number] | null>(
      (deepest, one) => (deepest === null || one.depthMm > deepest.depthMm ? one : deepest),
      null,
    );
  };
  const openings = polygonsOf(bolster.faceOpenings).flatMap((opening) => {
    const region = opening.map((ring) => ring.map(onDrawing));
    const deepest = over(region);
    if (deepest === null) return [];
    const at = interiorPointOf(deepest.common);
    return { kind: 'opening', ...shapeOf(opening), depthMm: deepest.depthMm, at } as const;
  });
  const tapped = bolster.holes.flatMap((hole) => {
    const at = onDrawing(hole.at);
    const spanMm = threadDiameterMm(hole.thread) ?? 0;
    const deepest = spanMm > 0 ? over(holeRegion({ at, diameterMm: spanMm })) : null;
    if (deepest === null) return [];
    return { kind: 'tapped-hole', shape: 'disc', spanMm, depthMm: deepest.depthMm, at } as const;
  });
  return [...openings, ...tapped];
}

function shapeOf(opening: Region): Pick<OpenSpan, 'shape' | 'spanMm'> {
  const { widthMm, lengthMm } = leastBox(opening);
  const share = areaOf(opening.slice(0, 1)) / ((Math.PI / 4) * widthMm * lengthMm);
  const isRound = lengthMm <= ROUND_BOX * widthMm && share >= ROUND_SHARE[0] && share <= ROUND_SHARE[1];
  return { shape: isRound ? 'disc' : 'strip', spanMm: widthMm };
}
