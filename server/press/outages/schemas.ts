import { z } from 'zod';
import { id } from '../../http/id.js';
import { instant } from '../../http/instant.js';
import { text } from '../../http/text.js';

export const outageBody = z.strictObject({
  equipmentId: id,
  startsAt: instant.optional().meta({ description: 'From now on when left out.' }),
  endsAt: instant,
  reason: text(200).meta({ description: 'Why, for everybody to read.' }),
});

export const outageReply = z
  .object({
    id,
    equipmentId: id,
    equipment: z.string(),
    startsAt: instant,
    endsAt: instant,
    reason: z.string(),
    madeBy: z.string(),
    createdAt: instant,
    endedAt: instant
      .nullable()
      .meta({ description: 'When it was put back in service before its time was over.' }),
  })
  .meta({ id: 'Outage', description: 'A time in which a piece of equipment is out of service.' });

export const outagesReply = z.object({ items: z.array(outageReply), next: z.null() });

export const equipmentReply = z.object({
  items: z.array(
    z
      .object({ id, kind: z.enum(['press', 'oven-tray', 'granulator']), name: z.string() })
      .meta({ id: 'Equipment' }),
  ),
  next: z.null(),
});
