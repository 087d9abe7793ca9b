import fastifyCsrf from '@fastify/csrf-protection';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { cookieNames, cookieOptions } from './cookies.js';
import type { House } from './house.js';
import { fromOurOwnPages, isSafe } from './same-origin.js';

/**
 * Second layer: a token in every form, bound to the session, or to being signed out.
 *
 * @param hmacKey the installation's secret
 */
export async function registerCsrf(
  app: FastifyInstance,
  { settings }: House,
  hmacKey: string,
): Promise<void> {
  await app.register(fastifyCsrf, {
    cookieKey: cookieNames(settings).csrf,
    cookieOpts: cookieOptions(settings),
    csrfOpts: { hmacKey },
    getUserInfo: boundTo,
    getToken: (request) => headerToken(request) ?? formToken(request.body) ?? '',
  });
}

/** The token for the forms of a page. */
export function csrfToken(request: FastifyRequest, reply: FastifyReply): string {
  return reply.generateCsrf({ userInfo: boundTo(request) });
}

/** Guards the pages of a scope: both layers, whoever is signed in or not. */
export function guardForms(pages: FastifyInstance, { settings }: House): void {
  pages.addHook('onRequest', async (request) => {
    if (!request.is404) fromOurOwnPages(request, settings);
  });
  // Here the form is read and validation has not yet dropped what the schema does not name.
  pages.addHook('preValidation', (request, reply, done) => {
    if (isSafe(request) || request.is404) done();
    else pages.csrfProtection(request, reply, done);
  });
}

/** Guards the API where a cookie alone says who asks; a bearer token is never sent by a browser on its own. */
export function guardCookieCalls(api: FastifyInstance, { settings }: House): void {
  api.addHook('onRequest', (request, reply, done) => {
    if (isSafe(request) || !request.actsByCookie) return done();
    fromOurOwnPages(request, settings);
    api.csrfProtection(request, reply, done);
  });
}

function boundTo(request: FastifyRequest): string {
  return request.actor?.sessionIdHash ?? 'signed out';
}

function headerToken(request: FastifyRequest): string | undefined {
  const header = request.headers['x-csrf-token'];
  return typeof header === 'string' ? header : undefined;
}

function formToken(body: unknown): string | undefined {
  if (typeof body !== 'object' || body === null || !('_csrf' in body)) return undefined;
  return typeof body._csrf === 'string' ? body._csrf : undefined;
}
