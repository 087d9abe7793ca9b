import { z } from 'zod';
import { instant } from '../http/instant.js';
import { DESK_GROUPS } from './waiting.js';

export const deskReply = z.object({
  items: z.array(
    z
      .object({
        group: z.enum(DESK_GROUPS),
        name: z.string(),
        more: z.string(),
        since: instant.optional(),
        until: instant.optional(),
        verdict: z.enum(['clear', 'caution', 'stop', 'unknown']).optional(),
        href: z.string().meta({ description: 'Path of the page where it is done.' }),
      })
      .meta({ id: 'DeskLine' }),
  ),
  next: z.null(),
});
