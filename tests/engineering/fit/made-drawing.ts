import type {
  Bolt,
  MeasuredDrawing,
  MeasuredFeature,
} from '../../../server/engineering/drawing/measured-drawing.js';
import { areaOf } from '../../../server/engineering/geometry/area.js';
import type { Point, Region, Ring } from '../../../server/engineering/geometry/point.js';

/** A plate made up for one test; coordinates are the drawing's, mm. */
export interface MadeUp {
  readonly bolts?: readonly Bolt[];
  readonly outline?: Ring;
  readonly feed?: Partial<MeasuredDrawing['feed']>;
  readonly projected?: Region;
  readonly centroid?: Point;
  readonly over?: Partial<MeasuredDrawing>;
}

const NO_FEATURES: MeasuredDrawing['features'] = {
  CAVITY: null,
  RUNNER: null,
  GATE: null,
  FEED: null,
  VENT: null,
  SINK: null,
};

/** An upright rectangle about a centre. */
export function rectangle(widthMm: number, heightMm: number, centre: Point = { x: 0, y: 0 }): Ring {
  const [w, h] = [widthMm / 2, heightMm / 2];
  return [
    { x: centre.x - w, y: centre.y - h },
    { x: centre.x + w, y: centre.y - h },
    { x: centre.x + w, y: centre.y + h },
    { x: centre.x - w, y: centre.y + h },
  ];
}

/** A measured drawing with nothing in it but what is asked for: 180 x 140 mm, feed of 4 mm in the middle. */
export function madeDrawing(made: MadeUp = {}): MeasuredDrawing {
  const outline = made.outline ?? rectangle(180, 140);
  const xs = outline.map(({ x }) => x);
  const ys = outline.map(({ y }) => y);
  const min = { x: Math.min(...xs), y: Math.min(...ys) };
  const max = { x: Math.max(...xs), y: Math.max(...ys) };
  const feedAt = made.feed?.at ?? { x: 0, y: 0 };
  return {
    units: { insunits: 4, mmPerUnit: 1, assumed: false },
    notices: [],
    plate: {
      outline,
      openings: [],
      areaMm2: (max.x - min.x) * (max.y - min.y),
      widthMm: max.x - min.x,
      heightMm: max.y - min.y,
      min,
      max,
    },
    feed: { at: feedAt, drawnDiameterMm: 4, diameterMm: 4, depthMm: 3, depthFromRunner: false, ...made.feed },
    bolts: made.bolts ?? [],
    sinks: [],
    dowels: [],
    water: [],
    features: NO_FEATURES,
    ventInsidePlate: null,
    projected: { region: made.projected ?? [], areaMm2: 0, centroid: made.centroid ?? feedAt },
    moulded: { levels: [], volumeMm3: 0 },
    cavities: [],
    ways: [],
    ...made.over,
  };
}

/** Holes of one diameter at (x, y) pairs. */
export function boltsAt(
  diameterMm: number,
  ...places: readonly (readonly [number, number])[]
): readonly Bolt[] {
  return places.map(([x, y]) => ({ at: { x, y }, diameterMm }));
}

/** The same drawing turned about the origin and then moved; only what a registration looks at is carried along. */
export function movedDrawing(
  drawing: MeasuredDrawing,
  turnDeg: number,
  by: Point,
  mirror = false,
): MeasuredDrawing {
  const cos = Math.cos((turnDeg * Math.PI) / 180);
  const sin = Math.sin((turnDeg * Math.PI) / 180);
  const move = (point: Point): Point => {
    const x = mirror ? -point.x : point.x;
    return { x: cos * x - sin * point.y + by.x, y: sin * x + cos * point.y + by.y };
  };
  return madeDrawing({
    bolts: drawing.bolts.map((bolt) => ({ ...bolt, at: move(bolt.at) })),
    outline: drawing.plate.outline.map(move),
    feed: { ...drawing.feed, at: move(drawing.feed.at) },
    centroid: move(drawing.projected.centroid),
  });
}

/** A pocket of one depth: an outline, as a measured feature. */
export function pocket(depthMm: number, ...rings: readonly Ring[]): MeasuredFeature {
  const areaMm2 = areaOf(rings);
  const level = { depthMm, region: rings, areaMm2 };
  return { region: rings, areaMm2, volumeMm3: areaMm2 * depthMm, maxDepthMm: depthMm, levels: [level] };
}

/** The features of a made drawing, those not named absent. */
export function features(given: Partial<MeasuredDrawing['features']>): MeasuredDrawing['features'] {
  return { ...NO_FEATURES, ...given };
}
