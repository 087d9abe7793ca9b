import { z } from 'zod';

/** The largest drawing that is read, decoded: 8 MiB. */
export const DRAWING_BYTES_MAX = 8 * 1024 * 1024;

/**
 * The raw JSON body that may carry such a drawing. JSON writes a line end of two bytes as four, so a drawing of
 * short lines can double; more than that would be text nobody's CAD program writes.
 */
export const DRAWING_BODY_BYTES_MAX = 18 * 1024 * 1024;

/** A drawing in a JSON body. A larger one is refused by the reason that says so, not as a wrong field. */
export const dxfText = z
  .string()
  .refine((dxf) => Buffer.byteLength(dxf) <= DRAWING_BYTES_MAX, {
    params: { reason: 'drawing-too-large' },
    error: 'The drawing is over 8 MiB.',
  })
  .meta({ description: 'Text of a DXF file, at most 8 MiB.' });
