import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { summaryOfErrors } from '../http/form.js';
import type { House } from '../http/house.js';
import { refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { linkAddress } from '../members/link-address.js';
import { may } from '../members/permissions.js';
import { memberById } from '../members/store.js';
import { qr } from '../pictures/qr.js';
import { dateText, INDUCTION_FORM_ERRORS, signedByText } from '../words/en/inductions.js';
import { cardCodeText, typedCardCode } from './card-code.js';
import { newCard } from './new-card.js';
import { signOffsOf } from './sign-off-store.js';
import { cardOf, memberOfCard } from './store.js';
import { stateOf } from './views.js';

const CODE_TYPED_MAX = 80;

/** One's own card: what stands, and a code by which a steward can see whether it still does. */
export async function showCard(request: FastifyRequest, reply: FastifyReply, house: House) {
  const { memberId, displayName } = actorOf(request);
  const { database, now, timeZone } = house;
  const [card, zone] = await Promise.all([cardOf(database, memberId), timeZone()]);
  return sendSheet(
    request,
    reply,
    house,
    'inductions/card',
    {
      title: displayName,
      kicker: 'Card of sign-offs',
      current: 'inductions',
      titleBlock: [
        { label: 'Sheet', value: 'Card' },
        { label: 'Drawn', value: dateText(now(), zone) },
      ],
    },
    {
      rows: await standingRows(house, memberId),
      ...(card && {
        qr: qr(
          linkAddress(request, house, `/verify/${card.code}`),
          'QR code for a steward to verify this card',
        ),
        issued: dateText(card.issuedAt, zone),
        code: cardCodeText(card.code),
      }),
    },
  );
}

/** A new code; the card before leads nowhere from now on. */
export async function postCard(request: FastifyRequest, reply: FastifyReply, house: House) {
  await transact(house.database, (tx) => newCard({ actor: actorOf(request), now: house.now(), tx }));
  return reply.redirect('/inductions/card', 303);
}

/** For a steward who cannot read the QR code: the code is typed, and leads to the card. */
export async function showVerifyTyped(request: FastifyRequest, reply: FastifyReply, house: House) {
  if (!may(actorOf(request), 'sign-off-see', { ownerId: 'anybody' })) throw refused('not-found');
  const { code = '' } = request.query as { code?: unknown };
  const typed = typeof code === 'string' ? code.trim().slice(0, CODE_TYPED_MAX) : '';
  const { database } = house;
  const known = await memberOfCard(database, typed);
  const kept = known === undefined ? typedCardCode(typed) : typed;
  if (known !== undefined || (await memberOfCard(database, kept)) !== undefined) {
    return reply.redirect(`/verify/${kept}`, 303);
  }
  const errors = typed === '' ? {} : { code: INDUCTION_FORM_ERRORS.cardCode };
  return sendSheet(
    request,
    typed === '' ? reply : reply.code(404),
    house,
    'inductions/verify-typed',
    {
      title: 'Verify a card',
      kicker: 'Inductions',
      current: 'inductions',
      ...(typed !== '' && { errorSummary: summaryOfErrors(errors) }),
    },
    { code: typed, errors },
  );
}

/** What a card's code leads to: the sign-offs of its member as they stand now, for stewards alone. */
export async function showVerify(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  const { database, now, timeZone } = house;
  const { code } = request.params as { code: string };
  const memberId = may(actor, 'sign-off-see', { ownerId: 'anybody' })
    ? await memberOfCard(database, code)
    : undefined;
  const member = memberId === undefined ? undefined : await memberById(database, memberId);
  if (member === undefined) throw refused('not-found', { figures: { what: 'card' } });
  const suspended = member.state !== 'active';
  const zone = await timeZone();
  return sendSheet(
    request,
    reply,
    house,
    'inductions/verify',
    {
      title: member.displayName,
      kicker: 'Card verified',
      current: 'inductions',
      titleBlock: [
        { label: 'Sheet', value: 'Card of a member' },
        { label: 'As it stands', value: dateText(now(), zone) },
      ],
      ...(suspended && {
        notices: [
          { verdict: 'stop', strong: 'Suspended.', text: 'Nothing on this card holds for the time being.' },
        ],
      }),
    },
    {
      rows: suspended ? [] : await standingRows(house, member.id),
      historyHref: `/inductions/history/${member.id}`,
    },
  );
}

async function standingRows({ database, now, timeZone }: House, memberId: string) {
  const zone = await timeZone();
  return (await signOffsOf(database, memberId))
    .filter((one) => stateOf(one, now()) === 'standing')
    .map((one) => ({
      title: one.title,
      until: dateText(one.validUntil, zone),
      by: signedByText(one),
    }));
}
