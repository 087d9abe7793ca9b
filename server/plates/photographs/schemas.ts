import { z } from 'zod';
import { id } from '../../http/id.js';
import { instant } from '../../http/instant.js';
import { text } from '../../http/text.js';

const caption = text(200).or(z.literal('')).meta({ description: 'What it shows.' });

/** Fields beside the file; a form has them as text. */
export const photographBody = z.strictObject({
  photograph: z
    .unknown()
    .optional()
    .meta({ description: 'The file: JPEG, PNG or WebP, at most 12 MiB and 52 million pixels.' }),
  caption: caption.optional(),
  revision: z
    .string()
    .regex(/^[1-9]\d{0,8}$/)
    .transform(Number)
    .optional()
    .meta({ description: 'Of the plate; the latest when left out.' }),
});

export const photographQuery = z.object({ size: z.enum(['thumb', 'whole']).default('whole') });

export const photographReply = z
  .object({
    id: z.string(),
    plateId: z.string().nullable(),
    revision: z.int().nullable(),
    bolsterId: z.string().nullable(),
    caption: z.string(),
    widthPx: z.int(),
    heightPx: z.int(),
    keptBy: z.string().meta({ description: 'The display name of who kept it.' }),
    keptAt: instant,
  })
  .meta({ id: 'Photograph' });

export const photographsReply = z.object({ items: z.array(photographReply), next: z.null() });

export const photographParams = z.object({ id });
