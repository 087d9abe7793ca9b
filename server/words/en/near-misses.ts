import type { Hurt } from '../../runs/near-misses/store.js';

export const HURT_WORDS: { readonly [hurt in Hurt]: { readonly text: string; readonly more: string } } = {
  nobody: { text: 'Nobody was hurt', more: 'it was close, or could have been' },
  'first-aid': { text: 'First aid was enough', more: 'a small burn, cut or bruise' },
  more: { text: 'More than first aid', more: 'a doctor, an ambulance, or it may need one' },
};

export const NEAR_MISS_LABELS = {
  place: 'Where',
  what: 'What happened',
  hurt: 'Was anybody hurt',
  date: 'Day',
  time: 'Time',
  done: 'What was done',
} as const;

export const NEAR_MISS_ERRORS = {
  place: 'Say where, in at most 100 characters.',
  what: 'Say what happened, in at most 2000 characters.',
  hurt: 'Say whether anybody was hurt.',
  date: 'Give the day as year, month and day, for instance 2026-11-26; or leave day and time empty for just now.',
  time: 'Give a time of day, for instance 14:00.',
  future: 'It has not happened yet.',
  done: 'Say what was done, in at most 2000 characters.',
} as const;

export const NEAR_MISS_DONE = {
  reported: {
    word: 'kept',
    text: 'Thank you. The stewards are told; what they do about it comes back to you.',
  },
  answered: { word: 'answered', text: 'Whoever told of it reads what was done.' },
} as const;

export const NOT_ANSWERED = 'not answered yet';
