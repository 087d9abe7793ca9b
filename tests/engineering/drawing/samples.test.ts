import { describe, expect, it } from 'vitest';
import { DrawingRefused } from '../../../server/engineering/drawing/drawing-refusal.js';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import type { CutFeature, MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import {
  boundaryDistance,
  distanceBetween,
  distanceToPoint,
} from '../../../server/engineering/geometry/distance.js';
import type { Region } from '../../../server/engineering/geometry/point.js';
import { accept, readable, refused, sampleBytes, sampleNames } from './samples.js';

/** The bolster the samples are drawn for ends its sprue at 3.5 mm. */
const SPRUE = { sprueDiameterMm: 3.5 };

/** Every figure is held against a general-purpose geometry library, within the tolerance given with it. */
describe.each(readable)('$name', ({ name, expected }) => {
  const drawing = measureDxf(sampleBytes(name), SPRUE);

  it('has the plate, units and notices as drawn', () => {
    const { plate, units, notices } = drawing;
    expect(units.insunits).toBe(expected.units.insunits);
    expect(units.mmPerUnit).toBe(expected.units.mm_per_unit);
    expect(units.assumed).toBe(expected.units.notice);
    expect(notices.some(({ code }) => code === 'units-assumed')).toBe(expected.units.notice);
    near(plate.widthMm, expected.plate.width_mm, accept.length_mm);
    near(plate.heightMm, expected.plate.height_mm, accept.length_mm);
    near(plate.min.x, expected.plate.x_min_mm, accept.length_mm);
    near(plate.min.y, expected.plate.y_min_mm, accept.length_mm);
    near(plate.areaMm2, expected.plate.area_mm2, accept.position_mm * 2 * (plate.widthMm + plate.heightMm));
  });

  it('has the feed and every hole in its place', () => {
    const { feed, bolts, dowels, sinks } = drawing;
    near(feed.at.x, expected.feed.x_mm, accept.position_mm);
    near(feed.at.y, expected.feed.y_mm, accept.position_mm);
    nearOrNull(feed.drawnDiameterMm, expected.feed.diameter_mm, accept.hole_diameter_mm);
    const diameter = expected.feed.diameter_mm ?? expected.feed.diameter_from_sprue_mm;
    near(feed.diameterMm, diameter as number, accept.hole_diameter_mm);
    expect(feed.depthFromRunner).toBe(expected.feed.depth_from_runner_mm !== undefined);
    near(
      feed.depthMm,
      expected.feed.depth_from_runner_mm ?? (expected.features.FEED?.max_depth_mm as number),
      1e-9,
    );

    expect(bolts).toHaveLength(expected.bolts.count);
    for (const [x, y] of expected.bolts.positions_rel_feed_mm) {
      const nearest = bolts.map(({ at }) => Math.hypot(at.x - feed.at.x - x, at.y - feed.at.y - y));
      near(Math.min(...nearest), 0, accept.position_mm);
    }
    for (const { diameterMm } of bolts) nearOneOf(diameterMm, expected.bolts.diameters_mm);
    expect(dowels).toHaveLength(expected.dowels?.count ?? 0);
    for (const { diameterMm } of dowels) nearOneOf(diameterMm, expected.dowels?.diameters_mm ?? []);
    expect(sinks).toHaveLength(expected.sinks?.count ?? 0);
    for (const { diameterMm, depthMm } of sinks) {
      nearOneOf(diameterMm, expected.sinks?.diameters_mm ?? []);
      nearOneOf(depthMm, expected.sinks?.depth_mm ?? []);
    }
    expect(new Set(sinks.map(({ bolt }) => bolt)).size).toBe(sinks.length);
  });

  it('has the area, volume and depth of every feature', () => {
    for (const [feature, measured] of Object.entries(drawing.features)) {
      const figures = expected.features[feature];
      expect(measured === null, feature).toBe(figures === undefined);
      if (!measured || !figures) continue;
      near(measured.areaMm2, figures.area_mm2, figures.area_tol_mm2);
      near(measured.volumeMm3, figures.volume_mm3, figures.volume_tol_mm3);
      near(measured.maxDepthMm, figures.max_depth_mm, 1e-9);
      near(areaFrom(measured.levels), measured.areaMm2, 1e-6);
    }
    const vents = expected.features.VENT;
    near(
      drawing.ventInsidePlate?.areaMm2 ?? 0,
      vents?.area_inside_plate_mm2 ?? 0,
      vents?.area_tol_mm2 ?? 1e-9,
    );
  });

  it('has what is moulded: projected area, centroid, volume, parts', () => {
    const { projected, moulded, cavities, features, feed } = drawing;
    near(projected.areaMm2, expected.projected_area_mm2, expected.projected_area_tol_mm2);
    near(moulded.volumeMm3, expected.moulded_volume_mm3, expected.moulded_volume_tol_mm3);
    near(areaFrom(moulded.levels), projected.areaMm2, 0.01);
    const [x, y] = expected.centroid_rel_feed_mm;
    near(projected.centroid.x - feed.at.x, x, accept.centroid_mm);
    near(projected.centroid.y - feed.at.y, y, accept.centroid_mm);
    near(areaFrom(cavities), features.CAVITY?.areaMm2 ?? 0, 1e-6);
    for (const cavity of cavities) near(areaFrom(cavity.levels), cavity.areaMm2, 1e-6);
  });

  it('has the walls between cavity, edge, bolt holes and sinks', () => {
    near(wallToEdge(drawing), expected.min_wall_mm.cavity_to_edge, accept.wall_mm);
    near(wallToBolts(drawing), expected.min_wall_mm.cavity_to_bolt_hole, accept.wall_mm);
    if (expected.min_wall_mm.cavity_to_sink !== undefined) {
      near(wallTo(drawing, 'SINK'), expected.min_wall_mm.cavity_to_sink, accept.wall_mm);
    }
  });

  it('has the cooling bores', () => {
    const { water } = drawing;
    expect(water).toHaveLength(expected.water?.open_segments ?? 0);
    near(
      water.map(({ path }) => lengthOf(path)).reduce((a, b) => a + b, 0),
      expected.water?.total_length_mm ?? 0,
      1e-6,
    );
    for (const { diameterMm, depthMm } of water) {
      nearOneOf(diameterMm, expected.water?.bore_mm ?? []);
      nearOneOf(depthMm, expected.water?.depth_mm ?? []);
    }
  });

  it('says what was left out', () => {
    const of = (code: string) => drawing.notices.filter((notice) => notice.code === code);
    expect(
      of('layer-not-a-feature')
        .map(({ layer }) => layer)
        .sort(),
    ).toEqual([...expected.ignored_layers].sort());
    expect(of('layer-frozen').map(({ layer }) => layer)).toEqual(expected.left_out?.frozen_layers ?? []);
    expect(of('layer-off').map(({ layer }) => layer)).toEqual(expected.left_out?.off_layers ?? []);
    expect(of('paper-space-left-out')[0]?.count ?? 0).toBe(expected.left_out?.paper_space_entities ?? 0);
    const notes = of('notes-left-out').map(({ entity, layer }) => `${entity} on ${layer}`);
    const expectedNotes = (expected.left_out?.notes ?? []).map(([entity, layer]) => `${entity} on ${layer}`);
    expect(notes.sort()).toEqual(expectedNotes.sort());
    expect(of('duplicates-dropped').length > 0).toBe(name === 'duplicates.dxf');
  });
});

const CODES: { readonly [name: string]: string } = {
  'open-contour.dxf': 'drawing-contour-open',
  'no-feed.dxf': 'drawing-no-feed',
  'self-crossing.dxf': 'drawing-contour-self-crossing',
  'two-plates.dxf': 'drawing-two-plates',
  'truncated.dxf': 'drawing-truncated',
  'binary.dxf': 'drawing-binary',
  'nested-blocks-cycle.dxf': 'drawing-block-nested-in-itself',
  'huge-coordinates.dxf': 'drawing-coordinate-too-far',
  'nan-coordinates.dxf': 'drawing-coordinate-not-finite',
  'sink-without-bolt.dxf': 'drawing-sink-without-bolt',
  'fit-points-spline.dxf': 'drawing-spline-fit-points-only',
};

describe('refused samples', () => {
  it('are all there', () => {
    expect(refused.map(({ name }) => name).sort()).toEqual(Object.keys(CODES).sort());
    expect(sampleNames).toHaveLength(readable.length + refused.length);
  });

  it.each(refused)('$name says what, on which layer and where', ({ name, where }) => {
    const [reason] = reasonsFor(name);
    expect(reason?.code).toBe(CODES[name]);
    if (where.layer !== undefined) expect(reason?.layer).toBe(where.layer);
    if (where.entity !== undefined) expect(reason?.entity).toBe(where.entity);
    if (where.block !== undefined) expect(reason?.block).toBe(where.block);
    const x = where.x_mm ?? where.near_x_mm;
    const y = where.y_mm ?? where.near_y_mm;
    if (x !== undefined) near(reason?.at?.x, x as number, accept.position_mm);
    if (y !== undefined) near(reason?.at?.y, y as number, accept.position_mm);
    if (where.gap_mm !== undefined) {
      near(reason?.lengthMm, where.gap_mm as number, accept.position_mm);
      const sides = [reason?.at, reason?.to].map((side) => [side?.x, side?.y]);
      expect(sides).toContainEqual(where.gap_from_mm);
      expect(sides).toContainEqual(where.gap_to_mm);
    }
  });
});

it('of two plates it names both, and none of what only follows from there being two', () => {
  const reasons = reasonsFor('two-plates.dxf');
  expect(reasons.map(({ code }) => code)).toEqual(['drawing-two-plates']);
  expect(reasons[0]?.at).toBeDefined();
  expect(reasons[0]?.to).toBeDefined();
  expect(reasons[0]?.to).not.toEqual(reasons[0]?.at);
});

function reasonsFor(name: string) {
  try {
    measureDxf(sampleBytes(name), SPRUE);
  } catch (error) {
    if (error instanceof DrawingRefused) return error.reasons;
    throw error;
  }
  throw new Error(`${name} was read`);
}

function near(actual: number | undefined, wanted: number, tolerance: number): void {
  expect(actual).toBeGreaterThanOrEqual(wanted - tolerance);
  expect(actual).toBeLessThanOrEqual(wanted + tolerance);
}

function nearOrNull(actual: number | null, wanted: number | null, tolerance: number): void {
  if (wanted === null || actual === null) expect(actual).toBe(wanted);
  else near(actual, wanted, tolerance);
}

function nearOneOf(actual: number, wanted: readonly number[]): void {
  near(Math.min(...wanted.map((value) => Math.abs(value - actual))), 0, accept.hole_diameter_mm);
}

function areaFrom(parts: readonly { readonly areaMm2: number }[]): number {
  return parts.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
}

function lengthOf(path: readonly { readonly x: number; readonly y: number }[]): number {
  return path.reduce((sum, point, i) => {
    const before = path[Math.max(0, i - 1)] ?? point;
    return sum + Math.hypot(point.x - before.x, point.y - before.y);
  }, 0);
}

function cavityOf({ features }: MeasuredDrawing): Region {
  return features.CAVITY?.region ?? [];
}

function wallToEdge(drawing: MeasuredDrawing): number {
  return boundaryDistance(cavityOf(drawing), [drawing.plate.outline])?.distanceMm ?? Number.NaN;
}

function wallToBolts(drawing: MeasuredDrawing): number {
  const walls = drawing.bolts.map(({ at, diameterMm }) => {
    const toAxis = distanceToPoint(cavityOf(drawing), at)?.distanceMm ?? Number.NaN;
    return Math.max(0, toAxis - diameterMm / 2);
  });
  return Math.min(...walls);
}

function wallTo(drawing: MeasuredDrawing, feature: CutFeature): number {
  return (
    distanceBetween(cavityOf(drawing), drawing.features[feature]?.region ?? [])?.distanceMm ?? Number.NaN
  );
}
