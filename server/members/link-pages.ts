import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { addressOf, limitSignedOut } from '../http/rate-limit.js';
import { refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { leadOn } from '../http/told-once.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { ROLE_WORDS } from '../words/en/members.js';
import { acceptInvitation } from './accept-invitation.js';
import { joinForm, passwordForm } from './form-fields.js';
import { keepSignedIn } from './keep-signed-in.js';
import { openInvitation, openReset } from './links.js';
import { resetPassword } from './reset-password.js';
import { signIn } from './sign-in.js';

interface LinkParams {
  readonly Params: { readonly token: string };
}

interface Shown {
  readonly given?: FieldErrors;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
}

/** The sheets that one-time links lead to: becoming a member, and a new password. */
export const linkPages: FastifyPluginAsync<House> = async (pages, house) => {
  const strangersToo = { config: { open: true }, onRequest: limitSignedOut(house) };

  pages.get<LinkParams>('/invitation/:token', strangersToo, async (request, reply) =>
    showInvitation(request, reply, house, request.params.token, {}),
  );

  pages.post<LinkParams>('/invitation/:token', strangersToo, async (request, reply) => {
    const { token } = request.params;
    const { given, value, errors } = readForm(joinForm, request.body);
    if (errors !== undefined)
      return showInvitation(request, reply.code(422), house, token, wrong(given, errors));
    const outcome = await acceptInvitation(house, { token, ...value });
    if (!(outcome instanceof Refusal))
      return signInWhoJoined(request, reply, house, { ...outcome, ...value });
    return showInvitation(request, reply.code(outcome.status), house, token, why(given, outcome));
  });

  pages.get<LinkParams>('/reset/:token', strangersToo, async (request, reply) =>
    showReset(request, reply, house, request.params.token, {}),
  );

  pages.post<LinkParams>('/reset/:token', strangersToo, async (request, reply) => {
    const { token } = request.params;
    const { given, value, errors } = readForm(passwordForm, request.body);
    if (errors !== undefined) return showReset(request, reply.code(422), house, token, wrong(given, errors));
    const outcome = await resetPassword(house, { token, ...value });
    if (!(outcome instanceof Refusal)) return reply.redirect('/sign-in?just=reset', 303);
    return showReset(request, reply.code(outcome.status), house, token, why(given, outcome));
  });
};

/** By the password just chosen and no other way than everybody's, so that its limits and its trail hold here too. */
async function signInWhoJoined(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  {
    memberId,
    email,
    password,
  }: { readonly memberId: string; readonly email: string; readonly password: string },
): Promise<FastifyReply> {
  const signedIn = await signIn(request.server, house, { email, password, address: addressOf(request) });
  if (signedIn instanceof Refusal) return reply.redirect('/sign-in?just=joined', 303);
  return leadOn(keepSignedIn(reply, house, signedIn), house, { memberId }, { what: 'joined', path: '/' });
}

function wrong(given: FieldErrors, errors: FieldErrors): Shown {
  return { given, errors, errorSummary: summaryOfErrors(errors) };
}

function why(given: FieldErrors, refusal: Refusal): Shown {
  return { given, errorSummary: summaryOfRefusal(refusal) };
}

async function showInvitation(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  token: string,
  { given = {}, errors = {}, errorSummary }: Shown,
) {
  const invitation = await openInvitation(house.database, token, house.now());
  if (invitation === undefined) throw refused('link-spent');
  return sendSheet(
    request,
    keptSecret(reply),
    house,
    'members/join',
    { title: `Join ${await house.place()}`, ...(errorSummary && { errorSummary }) },
    {
      action: request.url,
      email: invitation.email,
      role: ROLE_WORDS[invitation.role],
      handedBy: invitation.handedBy,
      displayName: given.displayName ?? invitation.displayName,
      errors,
    },
  );
}

async function showReset(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  token: string,
  { errors = {}, errorSummary }: Shown,
) {
  if ((await openReset(house.database, token, house.now())) === undefined) throw refused('link-spent');
  return sendSheet(
    request,
    keptSecret(reply),
    house,
    'members/reset',
    { title: 'Choose a new password', ...(errorSummary && { errorSummary }) },
    { action: request.url, errors },
  );
}

/** The address is a secret until the form is sent. */
function keptSecret(reply: FastifyReply): FastifyReply {
  return reply.header('cache-control', 'no-store').header('referrer-policy', 'same-origin');
}
