import { type Reason, type ReasonCode, Refusal, refuse } from '../reasons.js';

/** Carries a refusal from a handler to the one place that answers it. */
export class Refused extends Error {
  override readonly name = 'Refused';
  readonly refusal: Refusal;

  constructor(refusal: Refusal) {
    super(refusal.reasons.map((reason) => reason.code).join(', '));
    this.refusal = refusal;
  }
}

/**
 * A command's result, when it did what was asked.
 *
 * @throws Refused when it did not
 */
export function accept<Result>(result: Result | Refusal): Result {
  if (result instanceof Refusal) throw new Refused(result);
  return result;
}

/** What to throw for a single reason. */
export function refused(code: ReasonCode, more: Omit<Reason, 'code'> = {}): Refused {
  return new Refused(refuse(code, more));
}
