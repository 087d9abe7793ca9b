import { z } from 'zod';
import { id } from '../http/id.js';
import { text } from '../http/text.js';
import { RUN_FORM_ERRORS as ERRORS } from '../words/en/runs.js';
import { PRE_USE_LINES, type PreUseLine } from './pre-use.js';
import type { WithinCall } from './run-wanted.js';

const chosen = (error: string) =>
  z
    .union([z.literal(''), id], error)
    .optional()
    .transform((given) => (given === undefined || given === '' ? null : given));

const tick = z.string().optional();

/** The name of a line's tick. */
export const tickOf = (line: PreUseLine) => `preUse-${line}` as const;

/** The form that opens a run, as a browser sends it. */
export const openForm = z
  .object({
    'preUse-area-clear': tick,
    'preUse-guards': tick,
    'preUse-emergency-stop': tick,
    'preUse-hoses': tick,
    'preUse-no-leaks': tick,
    withinCallId: chosen(ERRORS.withinCallId),
    withinCallName: z
      .union([z.string().trim().length(0), text(80)], ERRORS.withinCallName)
      .optional()
      .transform((given) => (given === undefined || given === '' ? null : given)),
    attendedBy: chosen(ERRORS.attendedBy),
  })
  .superRefine(({ withinCallId, withinCallName }, context) => {
    if (withinCallId !== null && withinCallName !== null) {
      context.addIssue({ code: 'custom', path: ['withinCallName'], message: ERRORS.withinCallBoth });
    }
  })
  .transform(({ withinCallId, withinCallName, attendedBy, ...ticks }) => ({
    preUse: PRE_USE_LINES.filter((line) => ticks[tickOf(line)] !== undefined),
    withinCall: withinCallOf(withinCallId, withinCallName),
    attendedBy,
  }));

function withinCallOf(memberId: string | null, name: string | null): WithinCall | null {
  if (memberId !== null) return { memberId };
  return name === null ? null : { name };
}
