import type { Point, Region, Ring } from '../geometry/point.js';

/** The features that are cut to a depth and can carry melt, air or a screw head. */
export type CutFeature = 'CAVITY' | 'RUNNER' | 'GATE' | 'FEED' | 'VENT' | 'SINK';

/** Something the reader left out or took for granted; `words/` makes the sentence. */
export interface DrawingNotice {
  readonly code:
    | 'units-assumed'
    | 'layer-not-a-feature'
    | 'layer-frozen'
    | 'layer-off'
    | 'notes-left-out'
    | 'paper-space-left-out'
    | 'duplicates-dropped';
  readonly layer?: string;
  readonly entity?: string;
  readonly count?: number;
}

/** The part of a feature that is cut to one depth: islands and deeper levels are holes in it. */
export interface DepthLevel {
  readonly depthMm: number;
  readonly region: Region;
  readonly areaMm2: number;
}

/** One feature's cuts joined: its whole area, and the same area split by depth, shallowest first. */
export interface MeasuredFeature {
  readonly region: Region;
  readonly areaMm2: number;
  readonly volumeMm3: number;
  readonly maxDepthMm: number;
  readonly levels: readonly DepthLevel[];
}

export interface Bolt {
  readonly at: Point;
  readonly diameterMm: number;
}

export interface Dowel {
  readonly at: Point;
  readonly diameterMm: number;
}

/** A counterbore round the bolt hole `bolt` (index into `bolts`). */
export interface Sink {
  readonly bolt: number;
  readonly depthMm: number;
  readonly diameterMm: number;
  readonly region: Region;
}

/** A cooling bore seen from above: its centre line, bore diameter and the depth of its axis. */
export interface WaterChannel {
  readonly path: readonly Point[];
  readonly diameterMm: number;
  readonly depthMm: number;
  readonly region: Region;
}

/** A way of melt or air as it is drawn: a pass of the cutter along a line, or a pocket of any shape. */
export type DrawnWay = {
  readonly feature: 'RUNNER' | 'GATE' | 'VENT';
  readonly depthMm: number;
} & (
  | {
      readonly kind: 'channel';
      readonly widthMm: number /** A closed one repeats its first point. */;
      readonly path: readonly Point[];
    }
  | { readonly kind: 'pocket'; readonly ring: Ring }
);

/** One connected cavity: a moulded part, with what stands in it and how deep it is where. */
export interface Cavity {
  readonly region: Region;
  readonly levels: readonly DepthLevel[];
  readonly areaMm2: number;
  readonly volumeMm3: number;
  readonly maxDepthMm: number;
  readonly centroid: Point;
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * A plate drawing, read and measured. All lengths in mm, coordinates those of the drawing.
 * `projected` is the union of CAVITY, RUNNER, GATE and FEED with islands taken out; `moulded` is the
 * same area split by depth, the deepest cut winning, and its volume.
 */
export interface MeasuredDrawing {
  readonly units: { readonly insunits: number | null; readonly mmPerUnit: number; readonly assumed: boolean };
  readonly notices: readonly DrawingNotice[];
  readonly plate: {
    readonly outline: Ring;
    /** Inner PLATE contours, cut right through. */
    readonly openings: Region;
    readonly areaMm2: number;
    readonly widthMm: number;
    readonly heightMm: number;
    readonly min: Point;
    readonly max: Point;
  };
  readonly feed: {
    readonly at: Point;
    /** As drawn; null when FEED is a point, which then has the sprue's own diameter. */
    readonly drawnDiameterMm: number | null;
    readonly diameterMm: number;
    readonly depthMm: number;
    readonly depthFromRunner: boolean;
  };
  readonly bolts: readonly Bolt[];
  readonly sinks: readonly Sink[];
  readonly dowels: readonly Dowel[];
  readonly water: readonly WaterChannel[];
  readonly features: { readonly [feature in CutFeature]: MeasuredFeature | null };
  /** VENT clipped to the plate: what counts. Null without vents. */
  readonly ventInsidePlate: MeasuredFeature | null;
  readonly projected: { readonly region: Region; readonly areaMm2: number; readonly centroid: Point };
  readonly moulded: { readonly levels: readonly DepthLevel[]; readonly volumeMm3: number };
  readonly cavities: readonly Cavity[];
  /** Runners, gates and vents one by one, before they are joined; islands left out. */
  readonly ways: readonly DrawnWay[];
}
