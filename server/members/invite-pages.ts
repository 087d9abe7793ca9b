import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { ROLES } from '../context.js';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { invitedAlready, ROLE_WORDS } from '../words/en/members.js';
import { inviteForm } from './form-fields.js';
import { invite } from './invite.js';
import { linkAddress } from './link-address.js';
import { sendLink } from './link-sheet.js';
import { type Invitation, invitationWaiting } from './links.js';
import { may, mayAtAll } from './permissions.js';
import { emailKey } from './store.js';

/** Inviting one person: the form, then the link, once. */
export const invitePages: FastifyPluginAsync<House> = async (pages, house) => {
  pages.get('/members/invite', async (request, reply) => showForm(request, reply, house, {}));

  pages.post('/members/invite', async (request, reply) => {
    const actor = actorOf(request);
    const { given, value, errors } = readForm(inviteForm, request.body);
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors);
      return showForm(request, reply.code(422), house, { given, errors, errorSummary });
    }
    const waiting = await invitationWaiting(house.database, emailKey(value.email), house.now());
    if (waiting !== undefined && given.again !== waiting.id) {
      if (!mayAtAll(actor, 'member-invite')) throw refused('not-found');
      return showForm(request, reply.code(409), house, { given, waiting });
    }
    const outcome = await transact(house.database, (tx) =>
      invite({ actor, now: house.now(), tx, stewardsAt: house.stewardsAt }, value),
    );
    if (outcome instanceof Refusal) {
      const errorSummary = summaryOfRefusal(outcome);
      return showForm(request, reply.code(outcome.status), house, { given, errorSummary });
    }
    const { displayName, path, expiresAt } = outcome;
    const link = linkAddress(request, house, path);
    return sendLink(request, reply, house, {
      purpose: 'invitation',
      displayName,
      link,
      expiresAt,
      back: '/members',
    });
  });
};

interface Shown {
  readonly given?: FieldErrors;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
  /** What a new link would make worthless: asked about once. */
  readonly waiting?: Invitation;
}

async function showForm(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  { given = {}, errors = {}, errorSummary, waiting }: Shown,
) {
  const actor = actorOf(request);
  if (!mayAtAll(actor, 'member-invite')) throw refused('not-found');
  const roles = ROLES.filter((role) => may(actor, 'member-invite', { role }));
  return sendSheet(
    request,
    reply,
    house,
    'members/invite',
    {
      title: 'Invite somebody',
      kicker: 'Members',
      current: 'members',
      ...(errorSummary && { errorSummary }),
      ...(waiting && { notices: [invitedAlready(waiting, await house.timeZone())] }),
    },
    {
      again: waiting?.id,
      email: given.email ?? '',
      displayName: given.displayName ?? '',
      roles: roles.map((role) => ({
        value: role,
        text: ROLE_WORDS[role],
        selected: role === (given.role ?? 'member'),
      })),
      errors,
    },
  );
}
