import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { actorOf } from '../http/acting.js';
import { cookieNames, cookieOptions } from '../http/cookies.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { tellRetryAfter } from '../http/problem.js';
import { addressOf } from '../http/rate-limit.js';
import { safeNext } from '../http/safe-next.js';
import { type SheetWords, sendSheet } from '../http/sheet.js';
import { exactText, text } from '../http/text.js';
import { justDone } from '../http/told-once.js';
import { Refusal } from '../reasons.js';
import { SIGN_IN_NOTICES } from '../words/en/members.js';
import { accountPages } from './account-pages.js';
import { importPages } from './import-pages.js';
import { invitePages } from './invite-pages.js';
import { keepSignedIn } from './keep-signed-in.js';
import { linkPages } from './link-pages.js';
import { peoplePages } from './people-pages.js';
import { PASSWORD_LENGTH_MAX } from './schemas.js';
import { signIn } from './sign-in.js';
import { signOut } from './sign-out.js';

const signInForm = z.object({
  email: text(254).catch('').pipe(z.string().min(1, 'Give the e-mail address of your account.')),
  password: exactText(PASSWORD_LENGTH_MAX).catch('').pipe(z.string().min(1, 'Give your password.')),
  next: z.string().optional(),
});

const themeForm = z.object({ theme: z.enum(['auto', 'light', 'dark']) });

const THEME_KEPT_SECONDS = 31_536_000;

/** Signing in and out, the tone of the sheets, and the sheets of people. */
export const memberPages: FastifyPluginAsync<House> = async (pages, house) => {
  pages.get('/sign-in', { config: { open: true } }, async (request, reply) => {
    const next = safeNext((request.query as { next?: unknown }).next);
    if (request.actor !== undefined) return reply.redirect(next, 303);
    const done = justDone(request, reply, house) ?? (request.query as { readonly just?: unknown }).just;
    const notices = Object.entries(SIGN_IN_NOTICES)
      .filter(([what]) => what === done)
      .map(([, notice]) => notice);
    return showSignIn(request, reply, house, { next, email: '' }, { notices });
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

  pages.post('/account/theme', { config: { open: true } }, async (request, reply) => {
    const { value } = readForm(themeForm, request.body);
    const { theme } = cookieNames(house.settings);
    const options = cookieOptions(house.settings);
    if (value === undefined || value.theme === 'auto') reply.clearCookie(theme, options);
    else reply.setCookie(theme, value.theme, { ...options, maxAge: THEME_KEPT_SECONDS });
    return reply.redirect('/account', 303);
  });

  await pages.register(accountPages, house);
  await pages.register(invitePages, house);
  await pages.register(importPages, house);
  await pages.register(peoplePages, house);
  await pages.register(linkPages, house);
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
