import { z } from 'zod';
import { pageOf } from '../../http/cursor.js';
import { instant } from '../../http/instant.js';
import { quantity } from '../../http/quantity.js';
import { text } from '../../http/text.js';
import { DAMAGE_ERRORS as ERRORS } from '../../words/en/damage.js';
import { type Damage, HALVES } from './store.js';

const MOST_MM = 2000;

/** A form has figures as text. */
const place = z.union([z.number().min(-MOST_MM).max(MOST_MM), quantity(-MOST_MM, MOST_MM)]);

const told = {
  xMm: place.meta({ description: 'From the sprue axis, of a plate from its feed as drawn; to the right.' }),
  yMm: place.meta({ description: 'The same; up. Seen on the face of the moving half.' }),
  what: text(1000).meta({ description: 'What is damaged, and how.' }),
  photograph: z
    .unknown()
    .optional()
    .meta({ description: 'In a form: a file, JPEG, PNG or WebP, at most 12 MiB and 52 million pixels.' }),
};

export const plateDamageBody = z.strictObject(told);
export const bolsterDamageBody = z.strictObject({
  half: z.enum(HALVES).meta({ description: 'Whose face is damaged.' }),
  ...told,
});
export const closingBody = z.strictObject({ done: text(1000) });

const formPlace = z.string(ERRORS.place).trim().min(1, ERRORS.place).pipe(quantity(-MOST_MM, MOST_MM));

/** The form that reports damage, as a browser sends it; a plate has one face. */
export const damageForm = z.object({
  xMm: formPlace,
  yMm: formPlace,
  what: text(1000),
  half: z.enum(HALVES, ERRORS.half).default('moving'),
});

export const closingForm = z.object({ done: text(1000) });

export const damageReply = z
  .object({
    id: z.string(),
    bolsterId: z.string().nullable(),
    bolsterName: z.string().nullable(),
    half: z.enum(HALVES).nullable(),
    plateId: z.string().nullable(),
    plateName: z.string().nullable(),
    revision: z.int().nullable(),
    xMm: z.number(),
    yMm: z.number(),
    what: z.string(),
    photographId: z.string().nullable(),
    reportedBy: z.string().meta({ description: 'The display name of who reported it.' }),
    reportedAt: instant,
    done: z.string().nullable().meta({ description: 'What was done about it; null while it is open.' }),
    closedBy: z.string().nullable(),
    closedAt: instant.nullable(),
  })
  .meta({ id: 'Damage' });

export const damagesReply = pageOf(damageReply);

export function damageView(damage: Damage): z.output<typeof damageReply> {
  const { reportedBy: _id, reportedByName, closedByName, mounted: _mounted, ...rest } = damage;
  return { ...rest, reportedBy: reportedByName, closedBy: closedByName };
}
