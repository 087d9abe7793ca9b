import { z } from 'zod';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { text } from '../http/text.js';

/** The opaque text for a place in the trail: entries count up, so the last one's number is enough. */
export function writeTrailCursor(entryId: number): string {
  return Buffer.from(String(entryId)).toString('base64url');
}

export const trailCursor = z
  .string()
  .max(40)
  .transform((written, context): number => {
    const entryId = Buffer.from(written, 'base64url').toString('utf8');
    if (/^[1-9]\d{0,14}$/.test(entryId)) return Number(entryId);
    context.addIssue({
      code: 'custom',
      params: { reason: 'cursor-invalid' },
      message: 'Not one of our cursors.',
    });
    return z.NEVER;
  });

export const trailQuery = z
  .object({
    cursor: trailCursor.optional(),
    limit: z.coerce.number().int().min(1).max(100).default(50),
    actorId: id.optional().meta({ description: 'Only what this member did.' }),
    subjectKind: text(60)
      .optional()
      .meta({ description: 'With subjectId: only what was done to this thing.' }),
    subjectId: text(100).optional(),
  })
  .refine(({ subjectKind, subjectId }) => (subjectKind === undefined) === (subjectId === undefined), {
    error: 'Give subjectKind and subjectId together.',
    path: ['subjectId'],
  });

const trailEntry = z
  .object({
    id: z.string().meta({ description: 'Opaque id.' }),
    at: instant,
    actorId: z.string().nullable().meta({ description: 'Null where the service itself did it.' }),
    actor: z.string().nullable(),
    action: z.string(),
    sentence: z.string(),
    subjectKind: z.string(),
    subjectId: z.string(),
    details: z.record(z.string(), z.union([z.string(), z.number(), z.boolean(), z.null()])),
  })
  .meta({ id: 'TrailEntry' });

export const trailReply = z.object({ items: z.array(trailEntry), next: z.string().nullable() });
