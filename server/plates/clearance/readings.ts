import type { JudgedReading } from '../../engineering/fit/judge-readings.js';

/** What was measured at a bolt hole or its sink, mm; what was not measured is null. */
export interface HoleReading {
  /** As the drawing's holes are numbered, from 1. */
  readonly hole: number;
  readonly diameterMm: number | null;
  readonly sinkDiameterMm: number | null;
  readonly sinkDepthMm: number | null;
}

/** What a steward measured and ticked at the bench before clearing a plate's fit. */
export interface FitReadings {
  /**
   * At the corners of the plate as its face is seen: top left, top right, bottom right, bottom left, mm. Null where
   * the plate was refused before it was measured.
   */
  readonly thicknessMm: readonly [number, number, number, number] | null;
  readonly holes: readonly HoleReading[];
  readonly feedDiameterMm: number | null;
  readonly feedDepthMm: number | null;
  /** Null: nobody said. */
  readonly burrsRemoved: boolean | null;
  readonly headsBelowFace: boolean | null;
}

/** Readings as they are kept: with how each was judged when it was given. */
export interface KeptReadings extends FitReadings {
  readonly judged: readonly JudgedReading[];
}
