import type { FastifyReply } from 'fastify';
import { z } from 'zod';
import type { Reason, Refusal } from '../reasons.js';
import { titleOfStatus, wordReason } from '../words/en/reasons.js';

const problemReason = z
  .object({
    code: z.string().meta({ description: 'One of the closed list at /problems.' }),
    message: z.string(),
    fix: z.string(),
    field: z.string().optional(),
    place: z
      .object({
        xMm: z.number().optional(),
        yMm: z.number().optional(),
        layer: z.string().optional(),
        entity: z.string().optional(),
        block: z.string().optional(),
      })
      .optional(),
  })
  .meta({ id: 'ProblemReason' });

/** A problem document, RFC 9457, with every reason there is. */
export const problem = z
  .object({
    type: z.string().meta({ description: 'Page that explains the first reason.' }),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    reasons: z.array(problemReason),
  })
  .meta({ id: 'Problem' });

export type Problem = z.infer<typeof problem>;

const PROBLEM_TYPE = 'application/problem+json; charset=utf-8';

/** The document for a refusal. */
function problemOf(refusal: Refusal): Problem {
  const [first] = refusal.reasons;
  const reasons = refusal.reasons.map(problemReasonOf);
  return {
    type: `/problems/${first.code}`,
    title: titleOfStatus(refusal.status),
    status: refusal.status,
    detail: reasons.map((reason) => reason.message).join(' '),
    reasons,
  };
}

function problemReasonOf(reason: Reason) {
  return {
    code: reason.code,
    ...wordReason(reason),
    ...(reason.field !== undefined && { field: reason.field }),
    ...(reason.place !== undefined && { place: reason.place }),
  };
}

/** Sends a refusal as a problem document. */
export function sendProblem(reply: FastifyReply, refusal: Refusal): FastifyReply {
  tellRetryAfter(reply, refusal);
  return reply
    .code(refusal.status)
    .type(PROBLEM_TYPE)
    .send(JSON.stringify(problemOf(refusal)));
}

/** Headers that go with some refusals, on pages too. */
export function tellRetryAfter(reply: FastifyReply, refusal: Refusal): void {
  for (const { figures = {} } of refusal.reasons) {
    if (figures.retryAfterSeconds !== undefined) reply.header('retry-after', figures.retryAfterSeconds);
  }
  if (refusal.status === 503 && !reply.hasHeader('retry-after')) reply.header('retry-after', 5);
}
