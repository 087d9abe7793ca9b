import type { Verdict } from '../../engineering/finding.js';
import type { NoticeFigures, NoticeKind } from '../../notices/kinds.js';
import { lostText } from './lost.js';
import { worseText } from './reassessments.js';
import { dateText, spanText } from './times.js';

/** A notice as a person reads it. */
export interface NoticeWords {
  /** What it is, in a few words. */
  readonly strong: string;
  readonly text: string;
  /** What the link to it says. */
  readonly link: string;
  /** Only where somebody has to do something. */
  readonly verdict?: Verdict;
}

/** What a sentence is made of: its figures, whom it is about, and the shop's own zone. */
interface Told {
  readonly figures: NoticeFigures;
  /** Display name; a person that nobody has to be told of is left out. */
  readonly about: string | null;
  readonly timeZone: string;
}

function figure({ figures }: Told, name: string, otherwise = ''): string {
  return String(figures[name] ?? otherwise);
}

function day(told: Told, name: string): string {
  const instant = new Date(figure(told, name));
  return Number.isNaN(instant.getTime()) ? 'soon' : dateText(instant, told.timeZone);
}

/** `Thu 26 Nov, 14:00 to 17:45`, of the figures `startsAt` and `endsAt`. */
function span(told: Told): string {
  const [startsAt, endsAt] = [new Date(figure(told, 'startsAt')), new Date(figure(told, 'endsAt'))];
  const known = !Number.isNaN(startsAt.getTime()) && !Number.isNaN(endsAt.getTime());
  return known ? spanText(startsAt, endsAt, told.timeZone) : 'the press';
}

function because(told: Told): string {
  const reason = figure(told, 'reason') || lostText(figure(told, 'lost'));
  return reason === '' ? '' : ` Why: ${reason}`;
}

const competence = (told: Told) => figure(told, 'competence', 'a competence');

const plate = (told: Told) => figure(told, 'plate', 'a plate');

const stepName = (told: Told) => figure(told, 'step', 'a step');

/** What the owner of a plate does next, by the step that was cleared. */
const CLEARED_WHAT_NEXT: { readonly [step: string]: (polymers: string) => string } = {
  fit: () => 'It measures as it is drawn. Book its trial next: an attended first run.',
  trial: () => 'The first run was seen. A steward signs it for production next.',
  production: (polymers) => `Book it in ${polymers === '' ? 'the resins it is cleared for' : polymers}.`,
};

const NOTICES = {
  'signed-off': (told) => ({
    strong: `Signed off: ${competence(told)}`,
    text: `It holds until ${day(told, 'until')}.`,
    link: 'See the induction',
  }),
  'sign-off-revoked': (told) => ({
    verdict: 'stop',
    strong: `Sign-off revoked: ${competence(told)}`,
    text: `You may not do this until you are signed off again.${because(told)}`,
    link: 'See what is missing',
  }),
  'sign-off-lapsing': (told) => ({
    verdict: 'caution',
    strong: `Sign-off ends ${day(told, 'until')}: ${competence(told)}`,
    text: 'Answer the induction again and ask for a witness before then.',
    link: 'Renew it',
  }),
  'plate-handed-over': (told) => ({
    strong: `A plate is yours: ${plate(told)}`,
    text: `${told.about ?? 'Its owner'} handed it over. You say now who may see and run it.`,
    link: 'See the plate',
  }),
  'sign-off-lapsed': (told) => ({
    verdict: 'stop',
    strong: `Sign-off has ended: ${competence(told)}`,
    text: 'You may not do this until you are signed off again.',
    link: 'Renew it',
  }),
  'witness-wanted': (told) => ({
    strong: `${told.about ?? 'A member'} asks for a witness: ${competence(told)}`,
    text: 'The questions are answered; the practical part is to be watched and signed off.',
    link: 'Witness',
  }),
  'stewarding-declared-anew': (told) => ({
    verdict: 'caution',
    strong: `${told.about ?? 'An admin'} stewards without a witness`,
    text: `Nobody’s sign-off for it stood, so they declared it themselves.${because(told)}`,
    link: 'See the history',
  }),
  'role-changed': (told) => ({
    strong: `You are ${figure(told, 'role', 'a member')} now`,
    text: 'What you may see and do here has changed with it.',
    link: 'See your account',
  }),
  'plate-cleared': (told) => ({
    strong: `Cleared for ${stepName(told)}: ${plate(told)}`,
    text:
      CLEARED_WHAT_NEXT[figure(told, 'step')]?.(figure(told, 'polymers')) ?? 'Its page says what comes next.',
    link: 'See the plate',
  }),
  'plate-refused': (told) => ({
    verdict: 'stop',
    strong: `Not cleared for ${stepName(told)}: ${plate(told)}`,
    text: `Put it right and say that it was reworked, or submit it as it is now as a new revision.${because(told)}`,
    link: 'See the plate',
  }),
  'plate-reworked': (told) => ({
    verdict: 'caution',
    strong: `Goes back to be measured: ${plate(told)}`,
    text: `Its metal was changed, so fit, trial and production are cleared anew. Put it where stewards measure.${because(told)}`,
    link: 'See the plate',
  }),
  'plate-clearance-void': (told) => ({
    verdict: 'stop',
    strong: `No longer cleared: ${plate(told)}`,
    text: `A steward took the clearance back, from ${stepName(told)} on.${because(told)}`,
    link: 'See the plate',
  }),
  'plate-bolster-revised': (told) => ({
    verdict: 'stop',
    strong: `No longer cleared: ${plate(told)}`,
    text: `The bolster ${figure(told, 'bolster', 'it was cleared on')} has a new version, and a clearance holds for one version alone. Put the plate where stewards measure.`,
    link: 'See the plate',
  }),
  'booking-needs-attention': (told) => ({
    verdict: 'caution',
    strong: `Booking needs attention: ${span(told)}`,
    text: `${told.about === null ? 'It' : `${told.about}’s booking`} no longer has all that it was made with.${because(told)}`,
    link: 'See the booking',
  }),
  'plate-says-worse': (told) => ({
    verdict: 'caution',
    strong: `The plate check says more now: ${figure(told, 'plate', 'a plate')}, in ${figure(told, 'polymer', 'its resin')}`,
    text: `${worseText(figure(told, 'worse'))} What it is checked against has changed; a steward looks at it again.`,
    link: 'See the plate',
  }),
  'booking-fit-again': (told) => ({
    strong: `Booked again: ${span(told)}`,
    text: 'It lacks nothing any more.',
    link: 'See the booking',
  }),
  'booking-cancelled': (told) => ({
    verdict: 'caution',
    strong: `Booking cancelled: ${span(told)}`,
    text: `A steward cancelled it.${because(told)}`,
    link: 'See the booking',
  }),
  'trial-attended': (told) => ({
    strong: `You attend a trial: ${plate(told)}`,
    text: `${told.about ?? 'Somebody'} opened it and named you. Stand by until it is closed; if you do not, say so to them now.`,
    link: 'See the trial',
  }),
  'within-call': (told) => ({
    strong: 'You are named as within call',
    text: `${told.about ?? 'Somebody'} runs the press. Stay where you hear them until they are done; if you cannot, tell them now.`,
    link: 'See the cautions',
  }),
  'near-miss-reported': (told) => ({
    verdict: figure(told, 'hurt') === 'nobody' ? 'caution' : 'stop',
    strong: figure(told, 'hurt') === 'nobody' ? 'A near miss' : 'Somebody was hurt',
    text: `${told.about ?? 'Somebody'} told of it. Read it, see to it, and say what was done.`,
    link: 'Read it',
  }),
  'near-miss-answered': () => ({
    strong: 'Your near miss was answered',
    text: 'A steward says what was done about it.',
    link: 'Read it',
  }),
  'damage-reported': (told) => ({
    verdict: 'caution',
    strong: `Damage reported: ${figure(told, 'name', 'a bolster or plate')}`,
    text: `${told.about ?? 'Somebody'} saw it. Look at it before it is run again; a steward closes it with what was done.`,
    link: 'See where',
  }),
  'damage-closed': (told) => ({
    strong: `Damage seen to: ${figure(told, 'name', 'a bolster or plate')}`,
    text: 'A steward says what was done about what you reported.',
    link: 'Read it',
  }),
} satisfies { readonly [kind in NoticeKind]: (told: Told) => NoticeWords };

/** A notice in words; one of a kind that this release no longer tells keeps its link. */
export function wordNoticeTo(kind: string, told: Told): NoticeWords {
  const words = (NOTICES as { readonly [kind: string]: (told: Told) => NoticeWords })[kind];
  return words?.(told) ?? { strong: 'Something has changed', text: '', link: 'See it' };
}
