import type { Reason, ReasonCode } from '../../reasons.js';
import { DRAWING_REASONS, type ReasonWords } from './drawing-reasons.js';
import { HOUSE_REASONS } from './house-reasons.js';

export type { ReasonWords } from './drawing-reasons.js';

const REASONS = { ...HOUSE_REASONS, ...DRAWING_REASONS } satisfies {
  readonly [code in ReasonCode]: (reason: Reason) => ReasonWords;
};

/** What a reason says to a person and what to do about it. */
export function wordReason(reason: Reason): ReasonWords {
  const words: (reason: Reason) => ReasonWords = REASONS[reason.code];
  return words(reason);
}

const TITLES: { readonly [status: number]: string } = {
  400: 'Not understood',
  401: 'Not signed in',
  403: 'Not allowed',
  404: 'Not found',
  405: 'Not that method',
  409: 'Not as it stands now',
  413: 'Too large',
  415: 'Not in that form',
  422: 'Understood, and refused',
  429: 'Too many requests',
  500: 'Something broke',
  503: 'Busy',
};

/** Said where a form was sent by who is not signed in any more: its fields are not read, and so not kept. */
export const TYPED_IS_LOST =
  'Nothing was changed, and what you typed is not kept here: go back in the browser and copy it before you sign in.';

/** A short title for a status that carries reasons. */
export function titleOfStatus(status: number): string {
  return TITLES[status] ?? (status < 500 ? 'Refused' : 'Something broke');
}
