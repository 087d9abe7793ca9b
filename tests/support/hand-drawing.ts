import type {
  Cavity,
  CutFeature,
  MeasuredDrawing,
  MeasuredFeature,
} from '../../server/engineering/drawing/measured-drawing.js';
import { areaOf, momentsOf } from '../../server/engineering/geometry/area.js';
import { unionOf } from '../../server/engineering/geometry/boolean.js';
import type { Point, Region, Ring } from '../../server/engineering/geometry/point.js';

/** An upright rectangle cut to a depth: its middle and sides, mm. */
export interface Pocket {
  readonly x: number;
  readonly y: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly depthMm: number;
}

/** A plate of rectangles, measured by hand: for checks that need no drawing reader. */
export function handDrawing(plan: {
  readonly plate: Omit<Pocket, 'depthMm'>;
  readonly cavities: readonly Pocket[];
  readonly feed?: Point;
  readonly bolts?: readonly Point[];
}): MeasuredDrawing {
  const outline = rectangle(plan.plate);
  const cavities = plan.cavities.map(cavityOf);
  const region = unionOf(cavities.map((cavity) => cavity.region));
  const moments = momentsOf(region);
  const volumeMm3 = cavities.reduce((sum, cavity) => sum + cavity.volumeMm3, 0);
  const levels = cavities.flatMap((cavity) => cavity.levels);
  const maxDepthMm = Math.max(...cavities.map((cavity) => cavity.maxDepthMm));
  const feature: MeasuredFeature = { region, areaMm2: moments.areaMm2, volumeMm3, maxDepthMm, levels };
  const none: { readonly [feature in CutFeature]: null } = {
    ...{ CAVITY: null, RUNNER: null, GATE: null, FEED: null, VENT: null, SINK: null },
  };
  return {
    units: { insunits: 4, mmPerUnit: 1, assumed: false },
    notices: [],
    plate: {
      outline,
      openings: [],
      areaMm2: areaOf([outline]),
      widthMm: plan.plate.widthMm,
      heightMm: plan.plate.heightMm,
      min: outline[0] as Point,
      max: outline[2] as Point,
    },
    feed: {
      at: plan.feed ?? { x: 0, y: 0 },
      drawnDiameterMm: 4,
      diameterMm: 4,
      depthMm: 3,
      depthFromRunner: false,
    },
    bolts: (plan.bolts ?? []).map((at) => ({ at, diameterMm: 6.6 })),
    sinks: [],
    dowels: [],
    water: [],
    features: { ...none, CAVITY: feature },
    ventInsidePlate: null,
    projected: { region, areaMm2: moments.areaMm2, centroid: moments.centroid },
    moulded: { levels, volumeMm3 },
    cavities,
    ways: [],
  };
}

/** An upright rectangle as a ring, counter-clockwise from its lower left corner. */
export function rectangle({ x, y, widthMm, heightMm }: Omit<Pocket, 'depthMm'>): Ring {
  const [w, h] = [widthMm / 2, heightMm / 2];
  return [
    { x: x - w, y: y - h },
    { x: x + w, y: y - h },
    { x: x + w, y: y + h },
    { x: x - w, y: y + h },
  ];
}

function cavityOf(pocket: Pocket): Cavity {
  const region: Region = [rectangle(pocket)];
  const areaMm2 = pocket.widthMm * pocket.heightMm;
  return {
    region,
    levels: [{ depthMm: pocket.depthMm, region, areaMm2 }],
    areaMm2,
    volumeMm3: areaMm2 * pocket.depthMm,
    maxDepthMm: pocket.depthMm,
    centroid: { x: pocket.x, y: pocket.y },
    widthMm: pocket.widthMm,
    heightMm: pocket.heightMm,
  };
}
