import type { FastifyReply } from 'fastify';
import type { Queryable } from '../../database/queryable.js';
import { refused } from '../../http/refused.js';
import { pictureOf } from './store.js';

/** Sends a photograph, which is ours: a JPEG drawn here. Whether it may be seen was asked before. */
export async function sendPhotograph(
  reply: FastifyReply,
  db: Queryable,
  photographId: string,
  size: 'thumb' | 'whole',
): Promise<FastifyReply> {
  const picture = await pictureOf(db, photographId, size);
  if (picture === undefined) throw refused('not-found', { figures: { what: 'photograph' } });
  return reply.type('image/jpeg').header('x-content-type-options', 'nosniff').send(picture);
}
