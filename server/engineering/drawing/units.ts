import { DrawingRefused } from './drawing-refusal.js';
import type { MeasuredDrawing } from './measured-drawing.js';

/** `$INSUNITS` values (DXF reference, header variables) that a plate may be drawn in, as mm. */
const MM_PER_UNIT: { readonly [insunits: number]: number } = { 1: 25.4, 4: 1, 5: 10, 6: 1000 };

/**
 * The drawing's unit. None given, or 0, is taken as mm.
 * @throws DrawingRefused `drawing-units-unknown` for any other unit
 */
export function unitsOf(insunits: string | null): MeasuredDrawing['units'] {
  if (insunits === null) return { insunits: null, mmPerUnit: 1, assumed: true };
  const value = insunits === '' ? Number.NaN : Number(insunits);
  if (value === 0) return { insunits: 0, mmPerUnit: 1, assumed: true };
  const mmPerUnit = MM_PER_UNIT[value];
  if (mmPerUnit === undefined) throw new DrawingRefused([{ code: 'drawing-units-unknown', value: insunits }]);
  return { insunits: value, mmPerUnit, assumed: false };
}
