import { z } from 'zod';
import { id } from './id.js';

/** The last row of a page: lists are ordered by a stored instant, to the millisecond, and id. */
export interface Place {
  readonly at: Date;
  readonly id: string;
}

const writtenPlace = z.tuple([z.int().min(0).max(8.64e15), id]);

/** The opaque text a list hands out for its next page, and the place it stands for. */
export const cursor = z
  .string()
  .max(200)
  .transform((text, context): Place => {
    const place = readPlace(text);
    if (place !== undefined) return place;
    context.addIssue({
      code: 'custom',
      params: { reason: 'cursor-invalid' },
      message: 'Not one of our cursors.',
    });
    return z.NEVER;
  });

/** Query of a list: where to go on and how many items at most. */
export const pageQuery = z.object({
  cursor: cursor.optional(),
  limit: z.coerce.number().int().min(1).max(100).default(50),
});

/** A page of a list on the wire. */
export function pageOf<Item extends z.ZodType>(item: Item) {
  return z.object({ items: z.array(item), next: z.string().nullable() });
}

/**
 * Cuts a page from rows that were read with one more than `limit`.
 *
 * @param placeOf gives the stored instant and id that the rows are ordered by
 */
export function cutPage<Row>(rows: readonly Row[], limit: number, placeOf: (row: Row) => Place) {
  const items = rows.slice(0, limit);
  const last = items.at(-1);
  return { items, next: rows.length > limit && last !== undefined ? writeCursor(placeOf(last)) : null };
}

/** The opaque text for a place. */
function writeCursor(place: Place): string {
  return Buffer.from(JSON.stringify([place.at.getTime(), place.id])).toString('base64url');
}

function readPlace(text: string): Place | undefined {
  try {
    const parsed = writtenPlace.safeParse(JSON.parse(Buffer.from(text, 'base64url').toString('utf8')));
    return parsed.success ? { at: new Date(parsed.data[0]), id: parsed.data[1] } : undefined;
  } catch {
    return undefined;
  }
}
