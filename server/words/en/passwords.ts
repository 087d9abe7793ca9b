import type { PasswordFault } from '../../members/password-rules.js';

/** Why a new password is not taken, and what would be. */
export const PASSWORD_FAULTS = {
  'too-short': 'Use at least 15 characters; four or five words you can remember do well.',
  repeats: 'It repeats itself, which is tried first. Use several different words.',
  runs: 'It runs along the alphabet or the keyboard, which is tried first. Use several different words.',
  'common-words':
    'It is made of the words that are tried first. Use words that have nothing to do with each other.',
  'about-you':
    'It is made of names from this form, which are tried first. Use words that have nothing to do with you.',
} as const satisfies { readonly [fault in PasswordFault]: string };
