import type { Point, Ring } from '../geometry/point.js';
import type { FeatureLayer } from './layer-name.js';
import type { DrawingNotice, MeasuredDrawing } from './measured-drawing.js';
import type { Circle } from './stroke.js';

/** A closed contour on a feature layer, counter-clockwise, crossing nowhere. */
export interface Contour {
  readonly layer: FeatureLayer;
  readonly ring: Ring;
  /** Set where the contour is a full circle, however it was drawn. */
  readonly circle: Circle | null;
}

/** The line a cutter of the layer's width follows. */
export interface CentreLine {
  readonly layer: FeatureLayer;
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** A POINT, which only FEED may be. */
export interface Mark {
  readonly layer: FeatureLayer;
  readonly at: Point;
}

/** What a DXF file says, in mm, sorted by what it is for; nothing is measured yet. */
export interface PlateDrawing {
  readonly units: MeasuredDrawing['units'];
  readonly notices: readonly DrawingNotice[];
  readonly contours: readonly Contour[];
  readonly centreLines: readonly CentreLine[];
  readonly marks: readonly Mark[];
}
