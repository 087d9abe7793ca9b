/** A point or vector in the plane, mm; x to the right, y up, looking at the parting face. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A closed loop of points without a repeated last point. Outer loops run counter-clockwise, holes clockwise. */
export type Ring = readonly Point[];

/** An area of the plane: outer rings and holes, none crossing another; empty means no area. */
export type Region = readonly Ring[];
