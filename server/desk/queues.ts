import { bookingsInNeed } from '../bookings/store.js';
import { signOffsLapsing } from '../inductions/sign-off-store.js';
import { openRequests } from '../inductions/store.js';
import { invitationsAfter } from '../members/links.js';
import { may } from '../members/permissions.js';
import { nextStep } from '../plates/clearance/steps.js';
import { platesWaitingNow } from '../plates/clearance/waiting-now.js';
import { openDamage } from '../plates/damage/store.js';
import { reassessmentsNow } from '../plates/reassessments/store.js';
import { nearMissesOpen } from '../runs/near-misses/store.js';
import { isOpeningTime } from '../runs/opening-time.js';
import { openRuns, trialsToCome } from '../runs/store.js';
import { DESK_WORDS as WORDS } from '../words/en/desk.js';
import { reassessedLine, worstOf } from '../words/en/reassessments.js';
import type { DeskQueue } from './waiting.js';

const DAY_MS = 86_400_000;

/** How long before a sign-off ends a steward hears of it, and from when on it presses. */
const LAPSING_DAYS = 30;
const PRESSING_DAYS = 7;

const INVITATIONS_MAX = 50;

/** Bookings that lost something they were made with. */
const bookingsToLookAt: DeskQueue = async ({ db, now, timeZone }) => {
  const bookings = await bookingsInNeed(db, now);
  return bookings.map((booking) => ({
    group: 'today',
    ...WORDS.booking(booking, booking.lost, timeZone),
    until: booking.startsAt,
    verdict: 'caution',
    href: `/bookings/${booking.id}`,
  }));
};

/** Plates that wait for their next step, those of the asking steward left out: another decides about them. */
const platesToClear: DeskQueue = async ({ db, actor }) => {
  const waiting = await platesWaitingNow(db);
  return waiting
    .filter(({ ownerId }) => may(actor, 'plate-clear', { ownerId }))
    .map((plate) => ({
      group: 'plates',
      ...WORDS.plate(plate),
      since: plate.since,
      href: `/plates/${plate.plateId}/clearance/${nextStep(plate.reached) ?? 'fit'}`,
    }));
};

/** Plates that are booked or in production and whose check says worse than what was accepted. */
const platesThatSayWorse: DeskQueue = async ({ db, now }) => {
  const plates = await reassessmentsNow(db, now);
  return plates.map((plate) => ({
    group: 'plates',
    ...reassessedLine(plate),
    since: plate.foundAt,
    verdict: worstOf(plate.worse),
    href: `/plates/${plate.plateId}?polymer=${encodeURIComponent(plate.polymer)}`,
  }));
};

/** Members who answered and ask for a witness; nobody witnesses themselves. */
const witnessesWanted: DeskQueue = async ({ db, actor }) => {
  const requests = await openRequests(db);
  return requests
    .filter(({ memberId }) => may(actor, 'induction-witness', { ownerId: memberId }))
    .map((request) => ({
      group: 'people',
      ...WORDS.witness(request),
      since: request.askedAt,
      href: `/inductions/witness/${request.id}`,
    }));
};

/** Sign-offs that will end unless they are renewed. */
const signOffsEnding: DeskQueue = async ({ db, now }) => {
  const until = new Date(now.getTime() + LAPSING_DAYS * DAY_MS);
  const lapsing = await signOffsLapsing(db, { after: now, until });
  return lapsing.map((signOff) => ({
    group: 'people',
    ...WORDS.lapsing(signOff),
    until: signOff.validUntil,
    ...(signOff.validUntil.getTime() - now.getTime() < PRESSING_DAYS * DAY_MS && {
      verdict: 'caution' as const,
    }),
    href: `/inductions/history/${signOff.memberId}`,
  }));
};

/** Invitations that nobody has come by yet. */
const invitationsOpen: DeskQueue = async ({ db, now }) => {
  const invitations = await invitationsAfter(db, null, INVITATIONS_MAX);
  return invitations.map((invitation) => ({
    group: 'people',
    ...WORDS.invitation(invitation, invitation.expiresAt <= now),
    ...(invitation.expiresAt > now ? { until: invitation.expiresAt } : { since: invitation.expiresAt }),
    href: '/members#invitations',
  }));
};

/** Near misses that nobody has answered. */
const nearMissesToAnswer: DeskQueue = async ({ db, actor }) =>
  may(actor, 'near-miss-answer')
    ? (await nearMissesOpen(db)).map((nearMiss) => ({
        group: 'today',
        ...WORDS.nearMiss(nearMiss),
        since: nearMiss.reportedAt,
        verdict: nearMiss.hurt === 'nobody' ? 'caution' : 'stop',
        href: `/near-misses/${nearMiss.id}`,
      }))
    : [];

/** Damage that nobody has closed; what is in the press presses. */
const damageToSeeTo: DeskQueue = async ({ db, actor }) =>
  may(actor, 'damage-close')
    ? (await openDamage(db, null)).map((damage) => ({
        group: damage.mounted ? 'today' : 'plates',
        ...WORDS.damage(damage),
        since: damage.reportedAt,
        ...(damage.mounted && { verdict: 'caution' as const }),
        href: `/damage/${damage.id}`,
      }))
    : [];

/** Runs that were left open when their time was over. */
const runsLeftOpen: DeskQueue = async ({ db, now }) =>
  (await openRuns(db))
    .filter(({ endsAt }) => endsAt <= now)
    .map((run) => ({
      group: 'today',
      ...WORDS.runLeftOpen(run),
      since: run.endsAt,
      verdict: 'caution',
      href: `/runs/${run.id}`,
    }));

/** How far ahead a trial that wants a steward stands on the desk. */
const TRIALS_AHEAD_DAYS = 7;

/** Trials that somebody has booked and a steward is to attend: not those of one's own. */
const trialsToAttend: DeskQueue = async ({ db, now, actor, timeZone }) => {
  const until = now.getTime() + TRIALS_AHEAD_DAYS * DAY_MS;
  const trials = await trialsToCome(db, now);
  return trials
    .filter(({ memberId, startsAt }) => memberId !== actor.memberId && startsAt.getTime() < until)
    .map((trial) => {
      const isNow = isOpeningTime(trial, now);
      return {
        group: 'today',
        ...WORDS.trial(trial, isNow, timeZone),
        until: isNow ? trial.endsAt : trial.startsAt,
        href: isNow ? `/bookings/${trial.bookingId}/run` : `/bookings/${trial.bookingId}/trial-sheet`,
      };
    });
};

/** The queues there are, in the order of the desk. */
export const DESK_QUEUES: readonly DeskQueue[] = [
  nearMissesToAnswer,
  damageToSeeTo,
  runsLeftOpen,
  bookingsToLookAt,
  trialsToAttend,
  platesThatSayWorse,
  platesToClear,
  witnessesWanted,
  signOffsEnding,
  invitationsOpen,
];
