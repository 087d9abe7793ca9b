import { z } from 'zod';
import { ALLOYS } from '../../engineering/press-facts.js';
import { pageOf } from '../../http/cursor.js';
import { id } from '../../http/id.js';
import { instant } from '../../http/instant.js';
import { text } from '../../http/text.js';
import { STACK_PART_KINDS, STACK_PART_STATES } from './store.js';

const name = text(60);
/** May be empty: nobody has said. */
const words = (max: number) => z.union([z.literal(''), text(max)]);
const parallelWithinMm = z
  .number()
  .min(0)
  .max(10)
  .nullable()
  .meta({ description: 'Largest less smallest thickness over its face, as measured; null when nobody has.' });
const place = words(60).meta({ description: 'Where on the rack it lies.' });

export const stackPartBody = z.strictObject({
  kind: z.enum(STACK_PART_KINDS),
  name,
  thicknessMm: z.number().min(0.1).max(500),
  widthMm: z.number().min(5).max(3000),
  heightMm: z.number().min(5).max(3000),
  material: z.enum(ALLOYS),
  parallelWithinMm: parallelWithinMm.default(null),
  place: place.default(''),
  note: words(200).default(''),
});

export const stackPartChange = z.strictObject({
  basedOn: z.int().meta({ description: 'Its edition when it was looked at; refused when it no longer is.' }),
  name: name.optional(),
  parallelWithinMm: parallelWithinMm.optional(),
  place: place.optional(),
  note: words(200).optional(),
  state: z.enum(STACK_PART_STATES).optional(),
});

export const stackPartReply = z
  .object({
    id,
    kind: z.enum(STACK_PART_KINDS),
    name: z.string(),
    thicknessMm: z.number(),
    widthMm: z.number(),
    heightMm: z.number(),
    material: z.string(),
    parallelWithinMm: z.number().nullable(),
    place: z.string(),
    note: z.string(),
    state: z.enum(STACK_PART_STATES),
    edition: z.int().meta({ description: 'How often it was edited, counting from 1.' }),
    createdAt: instant,
  })
  .meta({
    id: 'StackPart',
    description: 'A facing plate or a packer. Its metal never changes: ground thinner, it is another one.',
  });

export const stackPartsReply = pageOf(stackPartReply);
