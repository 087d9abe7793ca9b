import type { FastifyReply } from 'fastify';
import { cookieNames, cookieOptions } from '../http/cookies.js';
import type { House } from '../http/house.js';
import type { SignedIn } from './sign-in.js';

/** A new session gets new cookies: the form token of the time before is bound to being signed out. */
export function keepSignedIn(
  reply: FastifyReply,
  { settings }: House,
  { token, session }: SignedIn,
): FastifyReply {
  const names = cookieNames(settings);
  return reply
    .setCookie(names.session, token, { ...cookieOptions(settings), expires: session.expiresAt })
    .clearCookie(names.csrf, cookieOptions(settings));
}
