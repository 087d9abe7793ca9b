import { measureDxf } from '../../engineering/drawing/measure-drawing.js';
import { sketchOf } from '../../pictures/plate-sketch.js';
import { type Outcome, outcomeOf } from '../check-drawing.js';
import type { DrawingSketched } from '../checking-house.js';

/** Reads a drawing for its sizes and to be drawn small, in this process and for as long as it takes. */
export function sketchDrawing(dxf: Uint8Array | string, sprueDiameterMm: number): Outcome<DrawingSketched> {
  return outcomeOf(() => {
    const drawing = measureDxf(dxf, { sprueDiameterMm });
    const { widthMm, heightMm } = drawing.plate;
    const partMm = drawing.cavities.map((part) => Math.max(part.widthMm, part.heightMm));
    return { widthMm, heightMm, partMm: partMm.toSorted((a, b) => a - b), sketch: sketchOf(drawing) };
  });
}
