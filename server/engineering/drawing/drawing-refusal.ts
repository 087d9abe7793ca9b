import type { Point } from '../geometry/point.js';

/** Why a drawing is turned away. Closed list: `words/` has a sentence and a cure for each. */
export const DRAWING_REFUSALS = [
  'drawing-empty',
  'drawing-binary',
  'drawing-not-dxf',
  'drawing-truncated',
  'drawing-too-large',
  'drawing-too-many-entities',
  'drawing-too-intricate',
  'drawing-no-entities',
  'drawing-units-unknown',
  'drawing-coordinate-not-finite',
  'drawing-coordinate-too-far',
  'drawing-block-nested-in-itself',
  'drawing-block-missing',
  'drawing-blocks-too-deep',
  'drawing-entity-unsupported',
  'drawing-entity-damaged',
  'drawing-entity-not-flat',
  'drawing-spline-fit-points-only',
  'drawing-layer-without-depth',
  'drawing-layer-unreadable',
  'drawing-contour-open',
  'drawing-contour-self-crossing',
  'drawing-contour-empty',
  'drawing-open-path-without-width',
  'drawing-not-a-circle',
  'drawing-no-plate',
  'drawing-two-plates',
  'drawing-no-feed',
  'drawing-two-feeds',
  'drawing-no-cavity',
  'drawing-sink-without-bolt',
  'drawing-outside-plate',
  'drawing-took-too-long',
] as const;

export type DrawingRefusalCode = (typeof DRAWING_REFUSALS)[number];

/** One reason, with the entity, layer and place it concerns (mm in the drawing) where there is one. */
export interface DrawingReason {
  readonly code: DrawingRefusalCode;
  readonly layer?: string;
  readonly entity?: string;
  readonly block?: string;
  readonly at?: Point;
  /** The far side of a gap, mm. */
  readonly to?: Point;
  /** The length that is wrong (a gap), mm. */
  readonly lengthMm?: number;
  /** The offending value as written in the file, or a count. */
  readonly value?: string | number;
  readonly limit?: number;
  /** Line of the file, counted from 1, where the text itself is wrong. */
  readonly line?: number;
}

/** Thrown by the reader; never crosses a transaction. Carries every reason found, the first the most telling. */
export class DrawingRefused extends Error {
  override readonly name = 'DrawingRefused';
  readonly reasons: readonly DrawingReason[];

  constructor(reasons: readonly [DrawingReason, ...DrawingReason[]]) {
    super(reasons.map((reason) => reason.code).join(', '));
    this.reasons = reasons;
  }
}
