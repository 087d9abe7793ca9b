import { z } from 'zod';
import { pageOf, pageQuery } from '../http/cursor.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';

export const noticesQuery = pageQuery.extend({
  unread: z.stringbool().optional().meta({ description: 'Only what is still to be read.' }),
});

export const noticeReply = z
  .object({
    id,
    kind: z.string().meta({ description: 'One of a closed list; the sentence says the same in words.' }),
    strong: z.string(),
    text: z.string(),
    href: z.string().meta({ description: 'Path of the page where something can be done about it.' }),
    createdAt: instant,
    readAt: instant.nullable(),
  })
  .meta({ id: 'Notice' });

export const noticesReply = pageOf(noticeReply);

export const readThroughBody = z.strictObject({
  through: instant.meta({
    description: 'createdAt of the latest notice seen; what came later stays unread.',
  }),
});

export const readThroughReply = z.object({ read: z.int() });
