import type { Actor } from '../context.js';
import { may } from '../members/permissions.js';
import type { ReasonCode } from '../reasons.js';
import { dayOf, minutesOf } from '../shop/opening-hours.js';
import type { RulesInForce } from '../shop/rules.js';
import {
  CONDITION_WORDS,
  HELD,
  KIND_WORDS,
  lostSince,
  NOT_ASKED_YET,
  plateText,
  SEE_LOST,
  STATUS_WORDS,
  shotsText,
  WHY_SIGN_OFF,
} from '../words/en/bookings.js';
import { nameOfCompetence } from '../words/en/competences.js';
import { wordReason } from '../words/en/reasons.js';
import { clockText, durationText, momentText, spanText } from '../words/en/times.js';
import { CONDITIONS } from './conditions.js';
import { signOffsNeeded, type WorkBooked } from './sign-offs-needed.js';
import type { Booking } from './store.js';

/** A booking as one line of a list. */
export function bookingLine(booking: Booking, { timeZone }: RulesInForce, now: Date) {
  const { id, plateName, revision, polymer, status, startsAt, endsAt } = booking;
  return {
    href: `/bookings/${id}`,
    name: spanText(startsAt, endsAt, timeZone),
    more: `${plateName}, revision ${revision}`,
    polymer,
    takes: durationText(minutesOf(booking)),
    status: statusText(booking, now),
    attention: status === 'needs-attention' && endsAt > now,
  };
}

/** What has become of it; one that is over was not cancelled and needs nothing any more. */
function statusText({ status, endsAt }: Booking, now: Date): string {
  return status !== 'cancelled' && endsAt <= now ? STATUS_WORDS.past : STATUS_WORDS[status];
}

/** What a booking is, in pairs; of others' only what everybody may see. */
export function bookingFacts(booking: Booking, { timeZone }: RulesInForce, whole: boolean, now: Date) {
  const seenByAll = [
    { label: 'When', value: spanText(booking.startsAt, booking.endsAt, timeZone), strong: true },
    { label: 'Takes', value: durationText(minutesOf(booking)) },
    { label: 'Equipment', value: booking.equipment.join(', ') || 'given back' },
    { label: 'Who', value: booking.displayName },
    { label: 'Resin', value: booking.polymer },
  ];
  if (!whole) return seenByAll;
  return [
    ...seenByAll,
    { label: 'Plate', value: plateText(booking) },
    { label: 'Plate check', value: booking.reportVerdict },
    { label: 'Kind', value: KIND_WORDS[booking.bookingKind] },
    { label: 'Shots', value: shotsText(booking.shots) },
    { label: 'Status', value: statusText(booking, now), strong: booking.status !== 'booked' },
    { label: 'Booked on', value: momentText(booking.createdAt, timeZone) },
    ...cancelledFacts(booking, timeZone),
  ];
}

function cancelledFacts({ cancelledAt, cancelReason }: Booking, timeZone: string) {
  if (cancelledAt === null) return [];
  return [
    { label: 'Cancelled on', value: momentText(cancelledAt, timeZone) },
    { label: 'Reason', value: cancelReason ?? 'none given' },
  ];
}

/** What the booking had to satisfy, what of it is missing now, and what is not asked for before its room is built. */
export function conditionLines({ lost }: Pick<Booking, 'lost'>, { timeZone }: RulesInForce) {
  return CONDITIONS.map(({ name, ask, lostBy = [] }) => {
    const label = CONDITION_WORDS[name];
    if (ask === null) return { label, value: NOT_ASKED_YET };
    const missing = lost.find(({ code }) => lostBy.includes(code));
    if (missing === undefined) return { label, value: HELD };
    return { label, value: lostSince(momentText(missing.since, timeZone)), strong: true };
  });
}

/** What a booking is missing, each with what to do and where. */
export function attentionNotices(booking: Booking, actor: Actor, now: Date) {
  if (booking.status !== 'needs-attention' || booking.endsAt <= now) return [];
  const own = booking.memberId === actor.memberId;
  return booking.lost.map((reason) => {
    const { message, fix } = wordReason(reason);
    const link = linkFor(reason.code, booking, own);
    return { verdict: 'caution', strong: message, text: fix, ...(link !== undefined && { link }) };
  });
}

function linkFor(code: ReasonCode, { plateId, memberId, polymer }: Booking, own: boolean) {
  if (code === 'signoff-missing') {
    const href = own ? '/inductions' : `/inductions/history/${memberId}`;
    return { href, text: SEE_LOST.inductions };
  }
  if (!/^(plate|report|not-cleared|revision)-/.test(code)) return undefined;
  return { href: `/plates/${plateId}?polymer=${encodeURIComponent(polymer)}`, text: SEE_LOST.plate };
}

/** The sign-offs that a booking asks for, each with what it is for. */
export function signOffLines(work: WorkBooked) {
  return signOffsNeeded(work).map(({ competence, why }) => ({
    label: nameOfCompetence(competence),
    value: WHY_SIGN_OFF[why](work.polymer),
  }));
}

/** A booking's span as the fields of a form. */
export function formOf({ startsAt, endsAt }: Booking, { timeZone }: RulesInForce) {
  return {
    date: dayOf(startsAt, timeZone).toString(),
    from: clockText(startsAt, timeZone),
    to: clockText(endsAt, timeZone),
  };
}

export function canMove(actor: Actor, booking: Booking, now: Date): boolean {
  return (
    may(actor, 'booking-move', { ownerId: booking.memberId }) &&
    booking.status !== 'cancelled' &&
    booking.endsAt > now
  );
}

export function canCancel(actor: Actor, booking: Booking, now: Date): boolean {
  return (
    may(actor, 'booking-cancel', { ownerId: booking.memberId }) &&
    booking.status !== 'cancelled' &&
    booking.endsAt > now
  );
}

/** When it is, as the form carries it: who moves it later says from when. */
export function seenOf({ startsAt, endsAt }: Booking) {
  return { seenStartsAt: startsAt.toISOString(), seenEndsAt: endsAt.toISOString() };
}
