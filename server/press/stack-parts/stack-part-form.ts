import { z } from 'zod';
import { ALLOYS } from '../../engineering/press-facts.js';
import { quantity } from '../../http/quantity.js';
import { text } from '../../http/text.js';
import { STOCK_FORM_ERRORS as WRONG } from '../../words/en/stock.js';
import { optional } from '../optional.js';
import { STACK_PART_KINDS, STACK_PART_STATES } from './store.js';

const words = (max: number) => z.literal('').or(z.string().trim().max(max, WRONG.long).pipe(text(max)));

const label = {
  name: z.string(WRONG.name).trim().min(1, WRONG.name).max(60, WRONG.name).pipe(text(60)),
  parallelWithinMm: optional(quantity(0, 10)),
  place: words(60).default(''),
  note: words(200).default(''),
};

/** A facing plate or packer that is new on the rack. */
export const newStackPartForm = z.object({
  kind: z.enum(STACK_PART_KINDS, WRONG.choose),
  thicknessMm: quantity(0.1, 500),
  widthMm: quantity(5, 3000),
  heightMm: quantity(5, 3000),
  material: z.enum(ALLOYS, WRONG.choose),
  ...label,
});

/** What is written about one. */
export const stackPartForm = z.object({
  ...label,
  state: z.enum(STACK_PART_STATES, WRONG.choose),
  basedOn: z.coerce.number().int().min(0).max(2_000_000_000).catch(0),
});
