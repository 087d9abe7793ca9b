import type { ContentsFaultCode } from '../../inductions/contents.js';
import { dayText } from './times.js';

/** What is wrong with a text that is to be an induction, going on from its line. */
export const CONTENTS_FAULTS: { readonly [code in ContentsFaultCode]: string } = {
  'too-long': 'the text is longer than 40,000 characters',
  'nested-too-deep': 'lists and quotes stand too deep inside one another',
  'no-part': 'there is no part: a part begins with “## ” and its title',
  'before-first-part': 'this stands before the first part',
  'heading-too-high': 'the title has its own field; parts begin with “## ”',
  'title-length': 'the title of a part has 1 to 60 characters',
  'too-many-parts': 'there are more than 20 parts',
  'part-empty': 'this part says nothing',
  'picture-not-ours': 'this picture is none of our drawings, which are called “figure:” and a name',
  'picture-not-alone': 'a drawing stands in a paragraph of its own',
  'question-without-answers': 'this question has no list of answers under it',
  'too-many-questions': 'this part asks more than 8 questions',
  'answer-shape': 'an answer begins with “[ ] ” or, the right one, with “[x] ”',
  'answer-unexplained': 'this answer does not say why: its reason stands on the line below it',
  'answer-count': 'a question has 2 to 6 answers',
  'right-answer-count': 'a question has exactly one right answer, “[x] ”',
  'practical-missing': 'the last part is missing: “## Practical part” with the list for the witness',
  'practical-not-last': 'the practical part is the last one',
  'checklist-missing': 'the practical part has no list of what the witness sees done',
};

/** `Wed 25 Nov 2026`. */
export function dateText(instant: Date, timeZone: string): string {
  const year = new Intl.DateTimeFormat('en-GB', { year: 'numeric', timeZone }).format(instant);
  return `${dayText(instant, timeZone)} ${year}`;
}

/** `12 months`, `1 month`. */
export function monthsText(months: number): string {
  return months === 1 ? '1 month' : `${months} months`;
}

/** How somebody stands with one competence, each with what to do next. */
export const STANDING_WORDS = {
  standing: { word: 'signed off', verdict: 'clear' },
  'lapses-soon': { word: 'ends soon', verdict: 'caution' },
  lapsed: { word: 'has ended', verdict: 'stop' },
  revoked: { word: 'revoked', verdict: 'stop' },
  asked: { word: 'waits for a witness', verdict: 'unknown' },
  read: { word: 'read: ask for a witness', verdict: 'unknown' },
  reading: { word: 'begun', verdict: 'unknown' },
  none: { word: 'not yet', verdict: 'unknown' },
} as const;

export type Standing = keyof typeof STANDING_WORDS;

/** The first page’s next step for who is signed off for nothing and has begun nothing. */
export const FIRST_INDUCTION = {
  name: 'Next: an induction',
  more: 'Nobody books or runs the press without being signed off. Read and answer, then ask for a witness.',
  href: '/inductions',
  button: 'Begin',
} as const;

/** What is wrong with a field of the forms of this room. */
export const INDUCTION_FORM_ERRORS = {
  reason: 'Say why, in 1 to 500 characters: the member will read it.',
  note: 'That is too long: say it in a few sentences.',
  title: 'Give a title of 1 to 60 characters.',
  refreshMonths: 'Give a whole number of months from 1 to 120.',
  contents: 'Write the contents: at least one part and the practical part.',
  competence: 'Give a short name of small letters and hyphens, such as laser-cutter.',
  eighteen: 'Tick it if you know that the member is eighteen or older; else they cannot be signed off.',
  eighteenOwn: 'Tick it if you are eighteen or older; else nobody can sign you off.',
  competences: 'Tick at least one.',
  cardCode:
    'No card has this code. A new card makes the code before it worthless: look at all of it once more.',
  why: 'Say why nobody can witness it, in 1 to 1000 characters: others will read it.',
  anew: 'Tick it if it is so; else nobody can let you steward.',
  checklist: (missing: number) =>
    missing === 1
      ? 'One item is not ticked. What was not seen done is not signed off.'
      : `${missing} items are not ticked. What was not seen done is not signed off.`,
  question: (number: number) => `Question ${number} is not answered.`,
  wrong: (number: number) => `Question ${number}: read why, and answer again.`,
} as const;

/** Who signed, and on what grounds, as a history and a card say it. */
export function signedByText(signOff: {
  readonly founding: boolean;
  readonly anew: boolean;
  readonly signedByName: string;
  readonly witnessed: readonly string[];
}): string {
  if (signOff.anew) return 'declared anew, without a witness';
  if (signOff.founding) return 'founding declaration';
  const by = `by ${signOff.signedByName}`;
  return signOff.witnessed.length === 0 ? `${by}, without the checklist on record` : by;
}

/** The sentence that an admin signs who declares themselves a steward because nobody stewards any more. */
export const ANEW_STATEMENT =
  'I am eighteen or older, I know what a steward answers for, and nobody here is signed off for stewarding who could ' +
  'have witnessed me. I know that the trail and my history mark this as declared without a witness.';

/** How a sign-off ended, in the history. */
export function endText(
  signOff: {
    readonly endKind: 'revoked' | 'refreshed' | null;
    readonly endedByName: string | null;
    readonly endReason: string | null;
    readonly endedAt: Date | null;
    readonly validUntil: Date;
  },
  now: Date,
  timeZone: string,
): string {
  const { endKind, endedAt, endedByName, endReason, validUntil } = signOff;
  const on = endedAt === null ? '' : dateText(endedAt, timeZone);
  if (endKind === 'revoked')
    return `revoked by ${endedByName} on ${on}${endReason === null ? '' : `: ${endReason}`}`;
  if (endKind === 'refreshed') return `refreshed on ${on}`;
  return `${validUntil <= now ? 'ended' : 'holds until'} ${dateText(validUntil, timeZone)}`;
}

/** The sentence that a founding admin signs. */
export const FOUNDING_STATEMENT =
  'I am eighteen or older, I have been trained for this, and there is nobody here yet who could have watched me. ' +
  'I know that the trail marks this as a founding declaration, and that everybody after me is witnessed.';
