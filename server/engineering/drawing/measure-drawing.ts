import { circleRing } from '../geometry/arc.js';
import type { Point } from '../geometry/point.js';
import { sweepPath } from '../geometry/sweep.js';
import { cavitiesOf } from './cavities.js';
import { cutAreas } from './contour-map.js';
import { cutsOfFeature } from './cuts-of-feature.js';
import { feedOf } from './feed.js';
import type { CutArea } from './joined-by-depth.js';
import type { Feature } from './layer-name.js';
import type { MeasuredDrawing, WaterChannel } from './measured-drawing.js';
import { insidePlate, measuredFeature } from './measured-feature.js';
import { mouldedOf } from './moulded.js';
import { type HolePlace, refuseOutsidePlate } from './outside-plate.js';
import type { PlateDrawing } from './plate-drawing.js';
import { plateOutline, plateRegion } from './plate-outline.js';
import { readDrawing, refusingIntricate } from './read-drawing.js';
import { Reasons } from './reasons.js';
import { roundHoles } from './round-holes.js';
import { sinksOf } from './sinks.js';
import type { Circle } from './stroke.js';
import { waysOf } from './ways.js';

/** What a drawing does not say about the bolster it goes on. */
export interface SprueEnd {
  /** Diameter of the sprue at the parting face, mm: that of a feed drawn as a point. */
  readonly sprueDiameterMm: number;
}

/**
 * Reads and measures a DXF file.
 * @throws DrawingRefused with every reason found
 */
export function measureDxf(dxf: string | Uint8Array, sprue: SprueEnd): MeasuredDrawing {
  return measureDrawing(readDrawing(dxf), sprue);
}

/**
 * Measures areas, depths, volumes and holes of a plate drawing; mm, mm2 and mm3 in the drawing's own coordinates.
 * @throws DrawingRefused for a plate that lacks a part or has one too many
 */
function measureDrawing(drawing: PlateDrawing, { sprueDiameterMm }: SprueEnd): MeasuredDrawing {
  return refusingIntricate(() => {
    const reasons = new Reasons();
    const areasOf = (feature: Feature) => cutAreas(cutsOfFeature(drawing, feature));
    const [cavity, runner, gate, vent, sink] = [
      areasOf('CAVITY'),
      areasOf('RUNNER'),
      areasOf('GATE'),
      areasOf('VENT'),
      areasOf('SINK'),
    ];
    const measuredRunner = measuredFeature(runner);
    const plate = plateOutline(drawing, reasons);
    const feed = feedOf(drawing, measuredRunner, sprueDiameterMm, reasons);
    if (cavity.length === 0) reasons.add({ code: 'drawing-no-cavity' });
    const bolts = roundHoles(drawing, 'BOLT', reasons).map(holeOf);
    const dowels = roundHoles(drawing, 'DOWEL', reasons).map(holeOf);
    const sinks = sinksOf(drawing, bolts, reasons);
    if (plate) {
      const holes: HolePlace[] = [
        ...bolts.map(({ at }) => ({ layer: 'BOLT' as const, at })),
        ...dowels.map(({ at }) => ({ layer: 'DOWEL' as const, at })),
        ...(feed ? [{ layer: 'FEED' as const, at: feed.at }] : []),
      ];
      refuseOutsidePlate(drawing, plate.outline, holes, reasons);
    }
    const refusal = reasons.refusal();
    if (refusal || !plate || !feed) throw refusal;

    const pocket = [circleRing(feed.at, feed.diameterMm)];
    const feedArea: CutArea = { region: pocket, levels: [{ depthMm: feed.depthMm, region: pocket }] };
    return {
      units: drawing.units,
      notices: drawing.notices,
      plate,
      feed,
      bolts,
      sinks,
      dowels,
      water: waterOf(drawing),
      features: {
        CAVITY: measuredFeature(cavity),
        RUNNER: measuredRunner,
        GATE: measuredFeature(gate),
        FEED: measuredFeature([feedArea]),
        VENT: measuredFeature(vent),
        SINK: measuredFeature(sink),
      },
      ventInsidePlate: measuredFeature(insidePlate(vent, plateRegion(plate))),
      ...mouldedOf([...cavity, ...runner, ...gate, feedArea]),
      cavities: cavitiesOf(cavity),
      ways: waysOf(drawing),
    };
  });
}

function holeOf({ centre, diameterMm }: Circle): { at: Point; diameterMm: number } {
  return { at: centre, diameterMm };
}

function waterOf(drawing: PlateDrawing): readonly WaterChannel[] {
  return drawing.centreLines
    .filter(({ layer }) => layer.feature === 'WATER')
    .map(({ layer: { widthMm, depthMm }, points, closed }) => ({
      path: closed ? [...points, points[0] as Point] : points,
      diameterMm: widthMm ?? 0,
      depthMm: depthMm ?? 0,
      region: sweepPath(points, widthMm ?? 0, closed),
    }));
}
