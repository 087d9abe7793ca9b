import type { FastifyReply } from 'fastify';

/** Sends JSON that is written already; a test holds such replies against the schema their routes declare. */
export function sendJsonBytes(reply: FastifyReply, json: Uint8Array | string): FastifyReply {
  return reply
    .type('application/json; charset=utf-8')
    .send(typeof json === 'string' ? json : Buffer.from(json.buffer, json.byteOffset, json.byteLength));
}
