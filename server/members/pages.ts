import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { actorOf } from '../http/acting.js';
import { cookieNames, cookieOptions } from '../http/cookies.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { tellRetryAfter } from '../http/problem.js';
import { addressOf } from '../http/rate-limit.js';
import { refused } from '../http/refused.js';
import { safeNext } from '../http/safe-next.js';
import { type SheetWords, sendSheet, themeOf } from '../http/sheet.js';
import { exactText, text } from '../http/text.js';
import { Refusal } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import { THEME_WORDS } from '../words/en/account.js';
import { momentText } from '../words/en/times.js';
import { keepSignedIn } from './keep-signed-in.js';
import { PASSWORD_LENGTH_MAX } from './schemas.js';
import { sessionsOf } from './session.js';
import { signIn } from './sign-in.js';
import { signOut, signOutElsewhere } from './sign-out.js';
import { memberById } from './store.js';

const signInForm = z.object({
  email: text(254).catch('').pipe(z.string().min(1, 'Give the e-mail address of your account.')),
  password: exactText(PASSWORD_LENGTH_MAX).catch('').pipe(z.string().min(1, 'Give your password.')),
  next: z.string().optional(),
});

const themeForm = z.object({ theme: z.enum(['auto', 'light', 'dark']) });

const THEME_KEPT_SECONDS = 31_536_000;

/** Signing in and out, and the account sheet. */
export const memberPages: FastifyPluginAsync<House> = async (pages, house) => {
  pages.get('/sign-in', { config: { open: true } }, async (request, reply) => {
    const next = safeNext((request.query as { next?: unknown }).next);
    if (request.actor !== undefined) return reply.redirect(next, 303);
    return showSignIn(request, reply, house, { next, email: '' }, {});
  });

  pages.post('/sign-in', { config: { open: true } }, async (request, reply) => {
    const { given, value, errors } = readForm(signInForm, request.body);
    const shown = { next: safeNext(given.next), email: given.email ?? '' };
    if (errors !== undefined) {
      reply.code(422);
      return showSignIn(
        request,
        reply,
        house,
        { ...shown, errors },
        { errorSummary: summaryOfErrors(errors) },
      );
    }
    const outcome = await signIn(pages, house, { ...value, address: addressOf(request) });
    if (outcome instanceof Refusal) {
      reply.code(outcome.status);
      tellRetryAfter(reply, outcome);
      return showSignIn(request, reply, house, shown, { errorSummary: summaryOfRefusal(outcome) });
    }
    return keepSignedIn(reply, house, outcome).redirect(shown.next, 303);
  });

  pages.post('/sign-out', async (request, reply) => {
    await signOut(house, actorOf(request));
    const { session, csrf } = cookieNames(house.settings);
    return reply
      .clearCookie(session, cookieOptions(house.settings))
      .clearCookie(csrf, cookieOptions(house.settings))
      .header('clear-site-data', '"cache", "storage"')
      .redirect('/sign-in', 303);
  });

  pages.post('/account/sign-out-elsewhere', async (request, reply) => {
    await signOutElsewhere(house, actorOf(request));
    return reply.redirect('/account', 303);
  });

  pages.post('/account/theme', { config: { open: true } }, async (request, reply) => {
    const { value } = readForm(themeForm, request.body);
    const { theme } = cookieNames(house.settings);
    const options = cookieOptions(house.settings);
    if (value === undefined || value.theme === 'auto') reply.clearCookie(theme, options);
    else reply.setCookie(theme, value.theme, { ...options, maxAge: THEME_KEPT_SECONDS });
    return reply.redirect('/account', 303);
  });

  pages.get('/account', async (request, reply) => showAccount(request, reply, house));
};

function showSignIn(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  form: { readonly next: string; readonly email: string; readonly errors?: object },
  words: Partial<SheetWords>,
) {
  return sendSheet(request, reply, house, 'members/sign-in', { title: 'Sign in', ...words }, form);
}

async function showAccount(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
): Promise<FastifyReply> {
  const actor = actorOf(request);
  const { database, now, settings } = house;
  const member = await memberById(database, actor.memberId);
  if (member === undefined) throw refused('session-ended');
  const rules = await rulesAt(database, now());
  const sessions = await sessionsOf(database, actor.memberId, now(), settings);
  const theme = themeOf(request, house);
  return sendSheet(
    request,
    reply,
    house,
    'members/account',
    { title: 'Your account', place: rules.makerspaceName },
    {
      facts: [
        { label: 'Name', value: member.displayName },
        { label: 'E-mail address', value: member.email ?? '' },
        { label: 'Role', value: member.role },
      ],
      sessions: sessions.map(({ idHash, createdAt, lastSeenAt }) => ({
        here: idHash === actor.sessionIdHash,
        since: momentText(createdAt, rules.timeZone),
        lastSeen: momentText(lastSeenAt, rules.timeZone),
      })),
      hasOthers: sessions.length > 1,
      themes: (['auto', 'light', 'dark'] as const).map((value) => ({
        id: `theme-${value}`,
        value,
        text: THEME_WORDS[value],
        checked: value === (theme ?? 'auto'),
      })),
    },
  );
}
