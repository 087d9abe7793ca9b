import { z } from 'zod';
import { id } from '../../http/id.js';
import { instant } from '../../http/instant.js';
import { text } from '../../http/text.js';

export const inspectionBody = z.strictObject({
  inspectedOn: z.iso.date().meta({ description: 'Day of the inspection on the shop’s own calendar.' }),
  inspectedBy: text(100).meta({ description: 'A person or a firm, by name.' }),
  intervalMonths: z.int().min(1).max(60),
  note: text(500).meta({ description: 'What was looked at, and what was found.' }),
});

export const inspectionReply = z
  .object({
    id,
    inspectedOn: z.iso.date(),
    inspectedBy: z.string(),
    intervalMonths: z.int(),
    dueAt: instant.meta({ description: 'From this instant on the next one is overdue.' }),
    note: z.string(),
    recordedBy: z.string(),
    recordedAt: instant,
  })
  .meta({ id: 'Inspection' });

export const inspectionsReply = z.object({
  dueAt: instant.nullable().meta({ description: 'Null while no inspection was ever recorded.' }),
  overdue: z.boolean(),
  items: z.array(inspectionReply),
  next: z.null(),
});
