import type { FastifyReply, FastifyRequest } from 'fastify';
import type { House } from '../http/house.js';
import { sendSheet } from '../http/sheet.js';
import { momentText } from '../words/en/times.js';
import type { LinkPurpose } from './one-time-link.js';

interface LinkShown {
  readonly purpose: LinkPurpose;
  readonly displayName: string;
  readonly link: string;
  readonly expiresAt: Date;
  readonly back: string;
}

/** Shows a link the one time that it is known. */
export async function sendLink(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  { purpose, displayName, link, expiresAt, back }: LinkShown,
): Promise<FastifyReply> {
  const until = momentText(expiresAt, await house.timeZone());
  return sendSheet(
    request,
    reply.code(201).header('cache-control', 'no-store'),
    house,
    'members/link',
    { title: `Hand this link to ${displayName}`, kicker: 'Shown this once' },
    { invites: purpose === 'invitation', displayName, link, until, back },
  );
}
