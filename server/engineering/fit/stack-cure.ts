import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, PlateChange } from '../finding.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { screwForChange } from './engagement.js';
import { plateWith, stackMm } from './plate-with.js';
import type { Registration } from './registration-result.js';
import { screwSeats } from './screw-seats.js';

/** A plate as it lies on its bolster, for a change of its stack. */
export interface StackedPlate {
  readonly drawing: Pick<MeasuredDrawing, 'bolts' | 'sinks'>;
  readonly plate: PlateFacts;
  readonly bolster: BolsterFacts;
  readonly registration: Registration;
}

/**
 * A change of the stack as a cure, and with it the standard screw length that then suits, where the one in hand no
 * longer does. `amount` in mm.
 */
export function stackCure(input: StackedPlate, code: string, amount: number, change: PlateChange): Cure {
  const { drawing, plate, bolster, registration } = input;
  const changed = plateWith(plate, change);
  const fit = screwForChange(screwSeats(drawing, changed, bolster, registration), changed, bolster);
  const other = fit !== null && fit.lengthMm !== plate.screw.lengthMm;
  return {
    code,
    amount,
    unit: 'mm',
    figures: {
      stackMm: stackMm(changed),
      screwSize: plate.screw.size,
      screws:
        drawing.bolts.length === 0 ? 'none' : fit === null ? 'no-length' : other ? 'other-length' : 'as-now',
      ...(fit !== null && { screwLengthMm: fit.lengthMm, engagedMm: fit.engagedMm }),
    },
    change: { ...change, ...(other && { screwLengthMm: fit.lengthMm }) },
  };
}
