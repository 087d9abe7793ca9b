import type { FastifyReply, FastifyRequest } from 'fastify';
import type { SheetContext } from '../views.js';
import { cookieNames } from './cookies.js';
import { csrfToken } from './csrf.js';
import type { House } from './house.js';

/** What a page says about itself; the rest of the sheet follows from the request. */
export type SheetWords = Pick<SheetContext, 'title'> &
  Partial<
    Pick<
      SheetContext,
      'kicker' | 'current' | 'titleBlock' | 'firstAngle' | 'notices' | 'errorSummary' | 'place'
    >
  >;

/** Everything the layout needs for a page of this request. `place` may be given by who has read the shop rules anyway. */
export async function sheetOf(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  words: SheetWords,
): Promise<SheetContext> {
  const { actor } = request;
  const theme = themeOf(request, house);
  const counts = actor === undefined ? undefined : await house.counts(actor);
  return {
    current: null,
    titleBlock: [],
    ...words,
    place: words.place ?? (await house.place()),
    member: actor === undefined ? null : { displayName: actor.displayName, role: actor.role },
    csrfToken: csrfToken(request, reply),
    ...(theme !== undefined && { theme }),
    ...(counts !== undefined && { counts }),
  };
}

/** Sends a page: `data` and the sheet, through a template of `templates/`. */
export async function sendSheet(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  template: string,
  words: SheetWords,
  data: object = {},
): Promise<FastifyReply> {
  const sheet = await sheetOf(request, reply, house, words);
  return reply.view(template, { ...data, ...sheet });
}

/** The member's own choice of light or dark, kept in a cookie. */
export function themeOf(request: FastifyRequest, { settings }: House): 'light' | 'dark' | undefined {
  const chosen = request.cookies[cookieNames(settings).theme];
  return chosen === 'light' || chosen === 'dark' ? chosen : undefined;
}
