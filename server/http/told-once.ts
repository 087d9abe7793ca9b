import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Actor } from '../context.js';
import { cookieNames, cookieOptions } from './cookies.js';
import type { House } from './house.js';

/** Longer than any way from a form to the page that it leads to. */
const SECONDS_KEPT = 60;

/** Stands for who is not signed in. */
const NOBODY = 'nobody';

type Settled = Pick<House, 'settings'>;

/** Something was done: leads on to the page it is about, which tells so once, to who did it. */
export function leadOn(
  reply: FastifyReply,
  { settings }: Settled,
  actor: Pick<Actor, 'memberId'> | undefined,
  done: { readonly what: string; readonly path: string },
): FastifyReply {
  const told = [done.what, actor?.memberId ?? NOBODY, done.path].join(' ');
  return reply
    .setCookie(cookieNames(settings).told, told, {
      ...cookieOptions(settings),
      maxAge: SECONDS_KEPT,
      signed: true,
    })
    .redirect(done.path, 303);
}

/** What the actor has just done here, the first time this is asked; `undefined` for anybody else and ever after. */
export function justDone(
  request: FastifyRequest,
  reply: FastifyReply,
  { settings }: Settled,
): string | undefined {
  const name = cookieNames(settings).told;
  const cookie = request.cookies[name];
  if (cookie === undefined || cookie === '') return undefined;
  const { valid, value } = request.unsignCookie(cookie);
  const [what, memberId, path] = valid ? value.split(' ') : [];
  const here = request.url.split('?')[0];
  if (valid && path !== here) return undefined;
  reply.clearCookie(name, cookieOptions(settings));
  return memberId === (request.actor?.memberId ?? NOBODY) ? what : undefined;
}
