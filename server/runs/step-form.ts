import { z } from 'zod';
import { quantity } from '../http/quantity.js';
import { text } from '../http/text.js';
import { RUN_FORM_ERRORS as ERRORS } from '../words/en/runs.js';
import { ALL_OUTCOMES } from './outcomes.js';
import type { SetAs } from './store.js';
import { ALL_OBSERVATIONS } from './trial/observations.js';
import { WENT } from './trial/where.js';

const perhaps = (from: number, to: number) =>
  z
    .union([z.literal(''), quantity(from, to)], { error: () => quantityError(from, to) })
    .optional()
    .transform((given) => (given === '' ? undefined : given));

function quantityError(from: number, to: number): string {
  return quantity(from, to).safeParse('').error?.issues[0]?.message ?? '';
}

const note = z
  .union([z.string().trim().length(0), text(1000)], ERRORS.note)
  .optional()
  .transform((given) => (given === undefined || given === '' ? null : given));

/** The form of a trial's step, as a browser sends it. */
export const stepForm = z
  .looseObject({
    step: z.string().max(40),
    went: z.enum(WENT, ERRORS.went),
    screwMm: perhaps(0, 1000),
    clampKn: perhaps(0, 50_000),
    holdMpa: perhaps(0, 400),
    holdGaugeBar: perhaps(0, 1000),
    holdS: perhaps(0, 600),
    note,
  })
  .transform(({ step, went, note: said, screwMm, clampKn, holdMpa, holdGaugeBar, holdS, ...others }) => ({
    step,
    went,
    note: said,
    setAs: given({ screwMm, clampKn, holdMpa, holdGaugeBar, holdS }),
    seen: ALL_OBSERVATIONS.filter((one) => others[`seen-${one}`] !== undefined),
  }));

function given(fields: { readonly [name in keyof SetAs]: number | undefined }): SetAs {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
}

/** The form that closes a run. */
export const closeForm = z.object({ outcome: z.enum(ALL_OUTCOMES, ERRORS.outcome), note });
