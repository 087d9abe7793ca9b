import { DRAWING_REFUSALS, type DrawingRefusalCode } from './engineering/drawing/drawing-refusal.js';

/**
 * Every reason the service gives for not doing something, with the status it answers with.
 * `words/` has a sentence and a cure for each. The order is the order in which reasons are listed.
 */
const HOUSE_REASONS = {
  'body-not-understood': 400,
  'field-invalid': 400,
  'cursor-invalid': 400,
  'not-signed-in': 401,
  'sign-in-failed': 401,
  'session-ended': 401,
  'form-not-ours': 403,
  'not-allowed': 403,
  'not-found': 404,
  'method-not-allowed': 405,
  'upload-too-large': 413,
  'media-type-unsupported': 415,
  'too-many-requests': 429,
  'idempotency-key-reused': 422,
  'answer-forgotten': 409,
  'polymer-unknown': 422,
  'screw-unknown': 422,
  'bolster-not-mounted': 422,
  'plate-facts-absurd': 422,
  'screw-hole-not-drawn': 422,
  'plate-retired': 409,
  'plate-has-owner': 409,
  'new-owner-unknown': 422,
  'new-owner-decided': 422,
  'stack-part-unknown': 422,
  'stack-part-not-in-service': 422,
  'photograph-not-read': 422,
  'photograph-too-large': 413,
  'photograph-too-many-pixels': 422,
  'photograph-moves': 422,
  'photographs-full': 422,
  'revision-not-latest': 422,
  'revision-unchanged': 422,
  'report-has-stop': 422,
  'report-not-known': 422,
  'plate-not-shared': 422,
  'revision-followed': 422,
  'plate-not-measured': 422,
  'plate-not-cleared': 422,
  'not-cleared-for-resin': 422,
  'report-worse-than-accepted': 422,
  'clearance-own-plate': 403,
  'clearance-out-of-order': 422,
  'clearance-trial-not-well': 422,
  'readings-missing': 422,
  'reading-in-inches': 422,
  'reading-contradicts-drawing': 422,
  'reading-beyond-limit': 422,
  'reading-hole-not-drawn': 422,
  'fit-unfinished': 422,
  'polymers-missing': 422,
  'caution-not-accepted': 422,
  'note-missing': 422,
  'clearance-stands': 409,
  'clearance-nothing-to-take-back': 409,
  'booking-backwards': 422,
  'booking-in-the-past': 422,
  'booking-too-short': 422,
  'booking-too-long': 422,
  'booking-outside-opening-hours': 422,
  'booking-too-far-ahead': 422,
  'booking-off-step': 422,
  'inspection-overdue': 422,
  'quota-month-spent': 422,
  'quota-ahead-spent': 422,
  'rules-backdated': 422,
  'rules-too-far-ahead': 422,
  'rules-contradict': 422,
  'rules-unchanged': 422,
  'closure-backwards': 422,
  'closure-in-the-past': 422,
  'closure-too-far-ahead': 422,
  'closure-overlaps': 409,
  'closure-over-booking': 409,
  'closure-already-over': 409,
  'bolster-no-holes': 422,
  'bolster-hole-off-face': 422,
  'bolster-hole-in-opening': 422,
  'bolster-hole-too-deep': 422,
  'bolster-hole-twice': 422,
  'bolster-holes-overlap': 422,
  'bolster-opening-open': 422,
  'bolster-opening-crosses': 422,
  'bolster-opening-off-face': 422,
  'bolster-stack-backwards': 422,
  'bolster-sprue-narrows': 422,
  'bolster-sprue-off-face': 422,
  'bolster-name-taken': 409,
  'bolster-mounted-already': 409,
  'press-clamp-backwards': 422,
  'version-unchanged': 422,
  'outage-backwards': 422,
  'outage-in-the-past': 422,
  'outage-too-far-ahead': 422,
  'outage-overlaps': 409,
  'outage-already-over': 409,
  'inspection-not-yet': 422,
  'stack-part-absurd': 422,
  'stack-part-name-taken': 409,
  'grade-figure-absurd': 422,
  'grade-figure-missing': 422,
  'grade-range-turned': 422,
  'grade-mould-too-hot': 422,
  'grade-ejected-soft': 422,
  'grade-melt-too-cold': 422,
  'grade-melt-too-hot': 422,
  'grade-sheet-to-come': 422,
  'recyclate-says-nothing': 422,
  'grade-name-taken': 409,
  'press-out-of-service': 409,
  'press-closed': 409,
  'press-taken': 409,
  'pre-use-missing': 422,
  'within-call-missing': 422,
  'within-call-oneself': 422,
  'run-outside-booking': 422,
  'run-booking-needs-attention': 409,
  'run-not-cleared': 422,
  'trial-unattended': 422,
  'run-open-already': 409,
  'run-closed': 409,
  'run-no-trial': 422,
  'run-says-why': 422,
  'trial-unfinished': 422,
  'trial-stopped': 409,
  'trial-nothing-before': 422,
  'trial-stop-says-why': 422,
  'trial-seen-nothing': 422,
  'trial-goes-no-further': 422,
  'trial-on-against-sign': 422,
  'trial-ended-badly': 422,
  'set-beyond-press': 422,
  'barrel-other-family': 422,
  'press-run-open': 409,
  'booking-run-open': 409,
  'near-miss-answered': 409,
  'damage-beside': 422,
  'damage-closed': 409,
  'booking-already-cancelled': 409,
  'booking-already-over': 409,
  'changed-meanwhile': 409,
  'first-run-link-spent': 404,
  'email-taken': 409,
  'invited-meanwhile': 409,
  'link-spent': 404,
  'password-weak': 422,
  'password-wrong': 422,
  'last-admin': 409,
  'already-suspended': 409,
  'not-suspended': 409,
  'member-left': 409,
  'member-suspended': 409,
  'table-not-read': 422,
  'signoff-missing': 422,
  'signoff-oneself': 403,
  'signoff-under-eighteen': 422,
  'signoff-stands': 409,
  'signoff-ended': 409,
  'founding-over': 409,
  'founding-open': 409,
  'steward-stands': 409,
  'checklist-unfinished': 422,
  'induction-unfinished': 422,
  'witness-asked-already': 409,
  'witness-not-asked': 409,
  'contents-not-readable': 422,
  'contents-unchanged': 422,
  'competence-taken': 409,
  'check-took-too-long': 422,
  'service-busy': 503,
  'something-broke': 500,
} as const;

export type HouseReasonCode = keyof typeof HOUSE_REASONS;
export type ReasonCode = HouseReasonCode | DrawingRefusalCode;

export const REASON_CODES = [
  ...(Object.keys(HOUSE_REASONS) as HouseReasonCode[]),
  ...DRAWING_REFUSALS,
] as const;

/** The HTTP status of one reason. */
export function statusOfReason(code: ReasonCode): number {
  if (code === 'drawing-too-large') return 413;
  return (HOUSE_REASONS as Record<string, number>)[code] ?? 422;
}

/** One reason, as a command gives it; `figures` fill the sentence. */
export interface Reason {
  readonly code: ReasonCode;
  readonly field?: string;
  readonly place?: {
    readonly xMm?: number;
    readonly yMm?: number;
    readonly layer?: string;
    readonly entity?: string;
    readonly block?: string;
  };
  readonly figures?: { readonly [name: string]: string | number };
}

/** What a command returns instead of a result when it will not do what was asked. Nothing has been written. */
export class Refusal {
  readonly reasons: readonly [Reason, ...Reason[]];

  constructor(reasons: readonly [Reason, ...Reason[]]) {
    this.reasons = reasons;
  }

  /** One status for all reasons: the only one there is; with several, 422 when any rule refuses, else the lowest. */
  get status(): number {
    const statuses = new Set(this.reasons.map((reason) => statusOfReason(reason.code)));
    return statuses.has(422) ? 422 : Math.min(...statuses);
  }
}

/** A refusal with a single reason. */
export function refuse(code: ReasonCode, more: Omit<Reason, 'code'> = {}): Refusal {
  return new Refusal([{ code, ...more }]);
}
