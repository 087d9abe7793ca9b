import { boundsOfPoints } from '../geometry/bounds.js';
import type { Point, Region } from '../geometry/point.js';
import { feedOf } from './feed.js';
import type { DrawingNotice } from './measured-drawing.js';
import { plateOutline } from './plate-outline.js';
import { readDrawing, refusingIntricate } from './read-drawing.js';
import { Reasons } from './reasons.js';
import { roundHoles } from './round-holes.js';

/** A bolster's face as it is drawn, mm from the sprue axis. */
export interface BolsterDrawing {
  readonly holes: readonly { readonly at: Point; readonly diameterMm: number }[];
  /** The box round the outline on PLATE; null where none is drawn. */
  readonly face: { readonly widthMm: number; readonly heightMm: number; readonly centre: Point } | null;
  /** Inner contours of PLATE. */
  readonly openings: Region;
  readonly notices: readonly DrawingNotice[];
}

/** A point on FEED has no diameter of its own, and only its place counts here. */
const ANY_SPRUE_MM = 1;

/**
 * Reads a bolster's face from a DXF, looking at the moving half: circles on BOLT are its tapped holes, the circle or
 * point on FEED is the sprue axis, from which places are counted, and, where it is drawn, the outline on PLATE is the
 * face, with its inner contours as openings.
 *
 * @throws DrawingRefused with every reason found: no feed or two, a hole that is no circle, two outlines
 */
export function readBolsterDrawing(dxf: string | Uint8Array): BolsterDrawing {
  return refusingIntricate(() => {
    const drawing = readDrawing(dxf);
    const reasons = new Reasons();
    const hasFace = drawing.contours.some(({ layer }) => layer.feature === 'PLATE');
    const outline = hasFace ? plateOutline(drawing, reasons) : null;
    const holes = roundHoles(drawing, 'BOLT', reasons);
    const feed = feedPlace(drawing, reasons);
    const refusal = reasons.refusal();
    if (refusal || feed === null) throw refusal;
    const fromSprue = ({ x, y }: Point) => ({ x: x - feed.x, y: y - feed.y });
    const box = outline && boundsOfPoints(outline.outline.map(fromSprue));
    return {
      holes: holes.map(({ centre, diameterMm }) => ({ at: fromSprue(centre), diameterMm })),
      face: box && {
        widthMm: box.maxX - box.minX,
        heightMm: box.maxY - box.minY,
        centre: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 },
      },
      openings: (outline?.openings ?? []).map((ring) => ring.map(fromSprue)),
      notices: drawing.notices,
    };
  });
}

/** A feed's depth is nothing to a bolster: a layer without one is right here. */
function feedPlace(drawing: ReturnType<typeof readDrawing>, reasons: Reasons): Point | null {
  const flat = <Drawn extends { readonly layer: { readonly depthMm: number | null } }>(one: Drawn) => ({
    ...one,
    layer: { ...one.layer, depthMm: one.layer.depthMm ?? 0 },
  });
  const flattened = { ...drawing, contours: drawing.contours.map(flat), marks: drawing.marks.map(flat) };
  return feedOf(flattened, null, ANY_SPRUE_MM, reasons)?.at ?? null;
}
