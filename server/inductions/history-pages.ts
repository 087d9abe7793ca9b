import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { text } from '../http/text.js';
import { justDone, leadOn } from '../http/told-once.js';
import { may, refusalUnless } from '../members/permissions.js';
import { memberById } from '../members/store.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { dateText, endText, INDUCTION_FORM_ERRORS, signedByText } from '../words/en/inductions.js';
import { revoke } from './revoke.js';
import { type SignOff, signOffById, signOffsOf } from './sign-off-store.js';
import { stateOf } from './views.js';

const JUST_DONE = {
  signed: { word: 'signed off', text: 'The member has been told.' },
  revoked: {
    word: 'revoked',
    text: 'It holds no longer. The member has been told, and what rested on it is marked.',
  },
} as const;

const SHAPES = { standing: 'clear', lapsed: 'unknown', refreshed: 'unknown', revoked: 'stop' } as const;

/** Everything a member was ever signed off for. */
export async function showHistory(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  const { database, now, timeZone } = house;
  const parsed = id.safeParse((request.params as { id?: unknown }).id);
  const member = parsed.success ? await memberById(database, parsed.data) : undefined;
  if (member === undefined) throw refused('not-found', { figures: { what: 'member' } });
  const seen = { by: 'sign-off-see', what: 'member' } as const;
  const forbidden = refusalUnless(actor, 'sign-off-see', { ownerId: member.id }, seen);
  if (forbidden !== undefined) throw new Refused(forbidden);
  const zone = await timeZone();
  const own = member.id === actor.memberId;
  const just = justDone(request, reply, house);
  const notice = just === 'signed' || just === 'revoked' ? JUST_DONE[just] : undefined;
  const revokes = may(actor, 'sign-off-revoke', { ownerId: member.id });
  return sendSheet(
    request,
    reply,
    house,
    'inductions/history',
    {
      title: own ? 'Your sign-offs' : `Sign-offs of ${member.displayName}`,
      kicker: 'Inductions',
      current: 'inductions',
      titleBlock: [
        { label: 'Sheet', value: 'Sign-offs' },
        { label: 'Of', value: member.displayName },
        { label: 'Drawn', value: dateText(now(), zone) },
      ],
      ...(notice && { notices: [notice] }),
    },
    {
      rows: (await signOffsOf(database, member.id)).map((one) => {
        const state = stateOf(one, now());
        return {
          title: one.title,
          version: one.version,
          signed: `${signedByText(one)}, ${dateText(one.signedAt, zone)}`,
          note: one.note,
          verdict: SHAPES[state],
          word: state,
          end: endText(one, now(), zone),
          ...(revokes && state === 'standing' && { revokeHref: `/inductions/sign-offs/${one.id}/revoke` }),
        };
      }),
      own,
    },
  );
}

const revokeForm = z.object({
  reason: z.string(INDUCTION_FORM_ERRORS.reason).trim().min(1, INDUCTION_FORM_ERRORS.reason).pipe(text(500)),
});

/** Asks for the reason before a sign-off is revoked. */
export async function showRevoke(request: FastifyRequest, reply: FastifyReply, house: House) {
  return sendRevoke(request, reply, house, {});
}

/** Revokes, or says why not. */
export async function postRevoke(request: FastifyRequest, reply: FastifyReply, house: House) {
  const signOff = await signOffAsked(request, house);
  const { given, value } = readForm(revokeForm, request.body);
  if (value === undefined) {
    const errors = { reason: INDUCTION_FORM_ERRORS.reason };
    return sendRevoke(request, reply.code(422), house, {
      given,
      errors,
      errorSummary: summaryOfErrors(errors),
    });
  }
  const outcome = await transact(house.database, (tx) =>
    revoke({ actor: actorOf(request), now: house.now(), tx }, house.listeners.signOffEnded, {
      signOffId: signOff.id,
      reason: value.reason,
    }),
  );
  if (!(outcome instanceof Refusal)) {
    return leadOn(reply, house, actorOf(request), {
      what: 'revoked',
      path: `/inductions/history/${signOff.memberId}`,
    });
  }
  return sendRevoke(request, reply.code(outcome.status), house, {
    given,
    errorSummary: summaryOfRefusal(outcome),
  });
}

interface Shown {
  readonly given?: { readonly [field: string]: string };
  readonly errors?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

async function sendRevoke(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const signOff = await signOffAsked(request, house);
  const zone = await house.timeZone();
  return sendSheet(
    request,
    reply,
    house,
    'inductions/revoke',
    {
      title: 'Revoke this sign-off?',
      kicker: `${signOff.displayName}, ${signOff.title.toLowerCase()}`,
      current: 'inductions',
      ...(shown.errorSummary && { errorSummary: shown.errorSummary }),
    },
    {
      action: `/inductions/sign-offs/${signOff.id}/revoke`,
      backHref: `/inductions/history/${signOff.memberId}`,
      facts: [
        { label: 'Who', value: signOff.displayName, strong: true },
        { label: 'For', value: `${signOff.title}, version ${signOff.version}` },
        { label: 'Signed', value: `${signedByText(signOff)}, ${dateText(signOff.signedAt, zone)}` },
        { label: 'Stands', value: endText(signOff, house.now(), zone) },
      ],
      reason: shown.given?.reason ?? '',
      errors: shown.errors ?? {},
    },
  );
}

async function signOffAsked(request: FastifyRequest, { database }: House): Promise<SignOff> {
  const parsed = id.safeParse((request.params as { id?: unknown }).id);
  const signOff = parsed.success ? await signOffById(database, parsed.data) : undefined;
  if (signOff === undefined) throw refused('not-found', { figures: { what: 'sign-off' } });
  const seen = { by: 'sign-off-see', what: 'sign-off' } as const;
  const forbidden = refusalUnless(actorOf(request), 'sign-off-revoke', { ownerId: signOff.memberId }, seen);
  if (forbidden !== undefined) throw new Refused(forbidden);
  return signOff;
}
