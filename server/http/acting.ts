import type { FastifyRequest } from 'fastify';
import type { Actor } from '../context.js';
import type { Refusal } from '../reasons.js';
import { Refused, refused } from './refused.js';

declare module 'fastify' {
  interface FastifyRequest {
    /** The member who acts, read from the database with this request; undefined when nobody is signed in. */
    actor: Actor | undefined;
    /** Why a token that came along counts for nothing. */
    signInRefusal: Refusal | undefined;
    /** True when the member is known by the cookie, which other sites can make a browser send. */
    actsByCookie: boolean;
  }
  interface FastifyContextConfig {
    /** True where nobody needs to be signed in. Every other route is for members. */
    open?: boolean;
  }
}

/**
 * The member who acts.
 *
 * @throws Refused when nobody is signed in
 */
export function actorOf(request: FastifyRequest): Actor {
  if (request.actor !== undefined) return request.actor;
  if (request.signInRefusal !== undefined) throw new Refused(request.signInRefusal);
  throw refused('not-signed-in');
}

/** Closes every route that does not say it is open. An `onRequest` hook, after the member is known. */
export async function closedUnlessOpen(request: FastifyRequest): Promise<void> {
  if (!request.is404 && request.routeOptions.config.open !== true) actorOf(request);
}
