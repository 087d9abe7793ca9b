import { z } from 'zod';

/** An instant: ISO 8601 with offset on the wire, a Date inside. */
export const instant = z.codec(z.iso.datetime({ offset: true }), z.date(), {
  decode: (text) => new Date(text),
  encode: (date) => date.toISOString(),
});
