import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cookieNames, cookieOptions } from '../http/cookies.js';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { tellRetryAfter } from '../http/problem.js';
import { refused } from '../http/refused.js';
import { sendSheet, themeOf } from '../http/sheet.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { THEME_WORDS } from '../words/en/account.js';
import { ACCOUNT_NOTICES, ROLE_WORDS } from '../words/en/members.js';
import { momentText } from '../words/en/times.js';
import { wordReason } from '../words/index.js';
import { changePassword } from './change-password.js';
import { changePasswordForm, nameForm, passwordForm } from './form-fields.js';
import { leaveMyself } from './leave-myself.js';
import { mayAtAll } from './permissions.js';
import { rename } from './rename.js';
import { sessionsOf } from './session.js';
import { signOutElsewhere } from './sign-out.js';
import { type Member, memberById } from './store.js';

interface Shown {
  readonly given?: FieldErrors;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
}

/** The account sheet: who one is, name and password, where one is signed in, leaving. */
export const accountPages: FastifyPluginAsync<House> = async (pages, house) => {
  pages.get('/account', async (request, reply) => showAccount(request, reply, house, {}));

  pages.post('/account/sign-out-elsewhere', async (request, reply) => {
    await signOutElsewhere(house, actorOf(request));
    return reply.redirect('/account', 303);
  });

  pages.post('/account/name', async (request, reply) => {
    const actor = actorOf(request);
    const { given, value, errors } = readForm(nameForm, request.body);
    if (errors !== undefined) return showAccount(request, reply.code(422), house, wrong(given, errors));
    const outcome = await transact(house.database, (tx) =>
      rename({ actor, now: house.now(), tx, stewardsAt: house.stewardsAt }, value),
    );
    if (outcome instanceof Refusal)
      return showAccount(request, refusing(reply, outcome), house, why(outcome));
    return reply.redirect('/account?just=name', 303);
  });

  pages.post('/account/password', async (request, reply) => {
    const { given, value, errors } = readForm(changePasswordForm, request.body);
    if (errors !== undefined) return showAccount(request, reply.code(422), house, wrong(given, errors));
    const outcome = await changePassword(house, actorOf(request), value);
    if (outcome instanceof Refusal)
      return showAccount(request, refusing(reply, outcome), house, why(outcome));
    return reply.redirect('/account?just=password', 303);
  });

  pages.get('/account/leave', async (request, reply) => showLeave(request, reply, house, {}));

  pages.post('/account/leave', async (request, reply) => {
    const { given, value, errors } = readForm(passwordForm, request.body);
    if (errors !== undefined) return showLeave(request, reply.code(422), house, wrong(given, errors));
    const outcome = await leaveMyself(house, actorOf(request), value.password);
    if (outcome instanceof Refusal) return showLeave(request, refusing(reply, outcome), house, why(outcome));
    const { session, csrf } = cookieNames(house.settings);
    return reply
      .clearCookie(session, cookieOptions(house.settings))
      .clearCookie(csrf, cookieOptions(house.settings))
      .header('clear-site-data', '"cache", "storage"')
      .redirect('/sign-in?just=left', 303);
  });
};

function wrong(given: FieldErrors, errors: FieldErrors): Shown {
  return { given, errors, errorSummary: summaryOfErrors(errors) };
}

function why(refusal: Refusal): Shown {
  const errors = Object.fromEntries(
    refusal.reasons.flatMap((reason) =>
      reason.field === undefined ? [] : [[reason.field, wordReason(reason).message]],
    ),
  );
  return { errors, errorSummary: summaryOfRefusal(refusal) };
}

function refusing(reply: FastifyReply, refusal: Refusal): FastifyReply {
  tellRetryAfter(reply, refusal);
  return reply.code(refusal.status);
}

async function ownMember(request: FastifyRequest, house: House): Promise<Member> {
  const member = await memberById(house.database, actorOf(request).memberId);
  if (member === undefined) throw refused('session-ended');
  return member;
}

async function showAccount(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const actor = actorOf(request);
  const { database, now, settings } = house;
  const member = await ownMember(request, house);
  const timeZone = await house.timeZone();
  const sessions = await sessionsOf(database, actor.memberId, now(), settings);
  const theme = themeOf(request, house);
  const { just } = request.query as { readonly just?: keyof typeof ACCOUNT_NOTICES };
  const done = just !== undefined && Object.hasOwn(ACCOUNT_NOTICES, just);
  const { given = {}, errors = {}, errorSummary } = shown;
  return sendSheet(
    request,
    reply,
    house,
    'members/account',
    {
      title: 'Your account',
      ...(done && { notices: [ACCOUNT_NOTICES[just]] }),
      ...(errorSummary && { errorSummary }),
    },
    {
      facts: factsOf(member),
      displayName: given.displayName ?? member.displayName,
      email: member.email ?? '',
      errors,
      sessions: sessions.map(({ idHash, createdAt, lastSeenAt }) => ({
        here: idHash === actor.sessionIdHash,
        since: momentText(createdAt, timeZone),
        lastSeen: momentText(lastSeenAt, timeZone),
      })),
      hasOthers: sessions.length > 1,
      themes: (['auto', 'light', 'dark'] as const).map((value) => ({
        id: `theme-${value}`,
        value,
        text: THEME_WORDS[value],
        checked: value === (theme ?? 'auto'),
      })),
      seesMembers: mayAtAll(actor, 'member-invite'),
    },
  );
}

async function showLeave(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  { errors = {}, errorSummary }: Shown,
) {
  const member = await ownMember(request, house);
  return sendSheet(
    request,
    reply,
    house,
    'members/leave',
    { title: 'Close your account?', ...(errorSummary && { errorSummary }) },
    { email: member.email ?? '', errors },
  );
}

function factsOf(member: Member) {
  return [
    { label: 'Name', value: member.displayName },
    { label: 'E-mail address', value: member.email ?? '' },
    { label: 'Role', value: ROLE_WORDS[member.role] },
  ];
}
