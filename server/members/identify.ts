import type { FastifyInstance, FastifyRequest } from 'fastify';
import { API_PREFIX } from '../http/api.js';
import { cookieNames } from '../http/cookies.js';
import type { House } from '../http/house.js';
import { Refusal, refuse } from '../reasons.js';
import { actorBySession } from './session.js';
import { readToken } from './token.js';

/**
 * Finds out who asks, for every request from here on: by bearer token or cookie on the API, by the cookie alone
 * on pages. `stewardsAt` is asked for who has the role of a steward or admin.
 */
export function identifyMembers(app: FastifyInstance, { settings, database, now, stewardsAt }: House): void {
  app.decorateRequest('actor', undefined);
  app.decorateRequest('signInRefusal', undefined);
  app.decorateRequest('actsByCookie', false);
  const cookie = cookieNames(settings).session;

  app.addHook('onRequest', async (request) => {
    const bearer = request.url.startsWith(`${API_PREFIX}/`) ? bearerToken(request) : undefined;
    const token = bearer ?? request.cookies[cookie];
    if (token === undefined || token === '') return;
    const claims = readToken(app, token, now());
    const found =
      claims === undefined
        ? refuse('session-ended')
        : await actorBySession(database, claims, now(), settings, stewardsAt);
    if (found instanceof Refusal) {
      request.signInRefusal = found;
    } else {
      request.actor = found;
      request.actsByCookie = bearer === undefined;
    }
  });
}

function bearerToken(request: FastifyRequest): string | undefined {
  return /^Bearer +([\w.~+/=-]+)$/i.exec(request.headers.authorization ?? '')?.[1];
}
