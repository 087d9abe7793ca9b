import { z } from 'zod';

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

/** An id of ours. It is opaque: one that cannot be ours answers like one that is not there. */
export const id = z
  .string()
  .refine((value) => UUID.test(value), {
    params: { reason: 'not-found' },
    error: 'There is nothing with this id.',
  })
  .meta({ description: 'Opaque id.' });

/** Path parameters `{ id }`. */
export const idParams = z.object({ id });
