import type { CutFeature, MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import type { Region } from '../engineering/geometry/point.js';
import type { SafeHtml } from './safe-html.js';
import { box, svg } from './svg.js';

/** One hue, six steps, deeper is darker: the step of a depth below the deepest cut of the plate. */
export function depthStep(depthMm: number, deepestMm: number): number {
  return Math.min(6, Math.max(1, Math.ceil((6 * depthMm) / deepestMm - 1e-9)));
}

export interface DepthArea {
  readonly depthMm: number;
  readonly region: Region;
}

/** Every cut of the plate by depth, vents inside the plate included, shallowest first so that the deepest is on top. */
export function depthAreas(drawing: MeasuredDrawing): readonly DepthArea[] {
  return [...(drawing.ventInsidePlate?.levels ?? []), ...drawing.moulded.levels].toSorted(
    (a, b) => a.depthMm - b.depthMm,
  );
}

export function deepestMm(drawing: MeasuredDrawing): number {
  return Math.max(...depthAreas(drawing).map((area) => area.depthMm), 0);
}

/** Features that carry melt or air, in the order a key names them. */
const KEYED: readonly CutFeature[] = ['CAVITY', 'RUNNER', 'FEED', 'GATE', 'VENT'];

export interface DepthKeyRow {
  readonly depthMm: number;
  readonly features: readonly CutFeature[];
  readonly step: number;
  readonly swatch: SafeHtml;
}

/** The key below a plate: each depth once, deepest first, with the features cut to it and a swatch of its tone. */
export function depthKey(drawing: MeasuredDrawing): readonly DepthKeyRow[] {
  const deepest = deepestMm(drawing);
  const featuresAt = new Map<number, CutFeature[]>();
  for (const feature of KEYED) {
    const measured = feature === 'VENT' ? drawing.ventInsidePlate : drawing.features[feature];
    for (const { depthMm } of measured?.levels ?? [])
      featuresAt.set(depthMm, [...(featuresAt.get(depthMm) ?? []), feature]);
  }
  return [...featuresAt.entries()]
    .toSorted(([a], [b]) => b - a)
    .map(([depthMm, features]) => {
      const step = depthStep(depthMm, deepest);
      return { depthMm, features, step, swatch: depthSwatch(step) };
    });
}

export function depthSwatch(step: number): SafeHtml {
  return svg(
    { frame: { x: 0, y: 0, width: 28, height: 16 }, className: 'ps-key__swatch', label: null },
    box(`ps-swatch ps-d${step}`, 0.5, 0.5, 27.5, 15.5),
  );
}
