import type { NewPasswordFault } from '../../members/password-rules.js';

/** Why a new password is not taken, going on from “the new password”, and what would be. */
export const PASSWORD_FAULTS = {
  'too-short': {
    why: 'is too short',
    fix: 'Use at least 15 characters; four or five words you can remember do well.',
  },
  repeats: { why: 'repeats itself, which is tried first', fix: 'Use several different words.' },
  runs: {
    why: 'runs along the alphabet or the keyboard, which is tried first',
    fix: 'Use several different words.',
  },
  'common-words': {
    why: 'is made of the words that are tried first',
    fix: 'Use words that have nothing to do with each other.',
  },
  'about-you': {
    why: 'is made of names that belong to you or to this place, which are tried first',
    fix: 'Use words that have nothing to do with you.',
  },
  'no-change': { why: 'is the one you have now', fix: 'Choose another one, or keep the one you have.' },
} as const satisfies { readonly [fault in NewPasswordFault]: { readonly why: string; readonly fix: string } };

/** Both in one line, beside the field. */
export function passwordFaultText(fault: NewPasswordFault): string {
  const { why, fix } = PASSWORD_FAULTS[fault];
  return `The password ${why}. ${fix}`;
}
