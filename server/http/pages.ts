import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import type { Refusal } from '../reasons.js';
import { TYPED_IS_LOST, titleOfStatus, wordReason } from '../words/en/reasons.js';
import { refusalToAnswer, refusalWithoutRoute } from './answer-errors.js';
import { guardForms } from './csrf.js';
import type { House } from './house.js';
import { tellRetryAfter } from './problem.js';
import { safeNext } from './safe-next.js';
import { isSafe } from './same-origin.js';
import { sheetOf } from './sheet.js';

/** Makes a scope the world of pages: forms are guarded, everything refused is a page that helps. */
export function speakPages(pages: FastifyInstance, house: House): void {
  pages.setValidatorCompiler(validatorCompiler);
  pages.setSerializerCompiler(serializerCompiler);
  pages.setErrorHandler((error, request, reply) =>
    answerOnPage(request, reply, house, refusalToAnswer(error, request)),
  );
  pages.setNotFoundHandler((request, reply) =>
    answerOnPage(request, reply, house, refusalWithoutRoute(request, reply)),
  );
  guardForms(pages, house);
  pages.addHook('onSend', async (request, reply) => {
    if (reply.hasHeader('cache-control')) return;
    reply.header('cache-control', request.actor === undefined ? 'no-cache' : 'no-store');
  });
}

/** Answers a refusal to a person: to the sign-in sheet where that is what is missing, else a sheet that says what to do. */
async function answerOnPage(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  refusal: Refusal,
): Promise<FastifyReply> {
  if (refusal.status === 401 && isSafe(request)) {
    return reply.redirect(`/sign-in?next=${encodeURIComponent(request.url)}`, 303);
  }
  tellRetryAfter(reply, refusal);
  reply.header('cache-control', 'no-store');
  const words = refusal.reasons.map(wordReason);
  const page = {
    what: words.map((reason) => reason.message).join(' '),
    todo: [...words.map((reason) => reason.fix), ...(refusal.status === 401 ? [TYPED_IS_LOST] : [])],
    links: linksFor(request, refusal),
    ...(refusal.status >= 500 && { reference: request.id }),
  };
  const title = titleOfStatus(refusal.status);
  const sheet = await sheetOf(request, reply, house, { title }).catch(() =>
    // The database may be what is broken.
    sheetOf(request, reply, { ...house, ...SILENT }, { title }),
  );
  return reply.code(refusal.status).view('error', { ...page, ...sheet });
}

/** What the head says while the database says nothing. */
const SILENT: Pick<House, 'place' | 'counts'> = {
  place: async () => '',
  counts: async () => ({ notices: 0, desk: null, seesMembers: false }),
};

function linksFor(request: FastifyRequest, refusal: Refusal) {
  const home = { href: '/', text: 'Home' };
  if (refusal.status === 401) return [{ href: signInAndBack(request), text: 'Sign in and come back' }, home];
  return [{ href: '/check', text: 'Check a drawing' }, { href: '/week', text: 'See the press week' }, home];
}

/** The sign-in sheet, which leads on to the page whose form was sent. */
function signInAndBack({ headers: { referer = '' } }: FastifyRequest): string {
  if (!URL.canParse(referer)) return '/sign-in';
  const { pathname, search } = new URL(referer);
  return `/sign-in?next=${encodeURIComponent(safeNext(pathname + search))}`;
}
