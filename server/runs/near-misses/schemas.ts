import { z } from 'zod';
import { pageOf } from '../../http/cursor.js';
import { instant } from '../../http/instant.js';
import { text } from '../../http/text.js';
import { HURT, type NearMiss } from './store.js';

export const nearMissBody = z.strictObject({
  happenedAt: instant.optional().meta({ description: 'Just now when left out.' }),
  place: text(100),
  what: text(2000),
  hurt: z.enum(HURT),
});

export const answerBody = z.strictObject({ done: text(2000) });

export const nearMissReply = z
  .object({
    id: z.string(),
    reportedBy: z.string().meta({ description: 'The display name of who told of it.' }),
    reportedAt: instant,
    happenedAt: instant,
    place: z.string(),
    what: z.string(),
    hurt: z.enum(HURT),
    done: z.string().nullable().meta({ description: 'What a steward says was done; null until one has.' }),
    answeredBy: z.string().nullable(),
    answeredAt: instant.nullable(),
  })
  .meta({ id: 'NearMiss' });

export const nearMissesReply = pageOf(nearMissReply);

export function nearMissView(nearMiss: NearMiss): z.output<typeof nearMissReply> {
  const { reportedBy: _id, reportedByName, answeredByName, ...rest } = nearMiss;
  return { ...rest, reportedBy: reportedByName, answeredBy: answeredByName };
}
