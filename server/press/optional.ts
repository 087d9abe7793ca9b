import { z } from 'zod';

/** A field that may stay empty: nothing is known then. */
export function optional<Schema extends z.ZodType>(schema: Schema) {
  return z
    .literal('')
    .transform(() => null)
    .or(schema);
}
