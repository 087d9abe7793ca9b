import type { FastifyReply } from 'fastify';

/** Sends a drawing as a file to keep: nothing that a browser would open or guess at. */
export function sendDrawing(
  reply: FastifyReply,
  { dxf, fileName }: { readonly dxf: Buffer; readonly fileName: string },
): FastifyReply {
  const ascii = fileName.replace(/[^\x20-\x7e]/g, '_').replace(/["\\]/g, '_');
  return reply
    .type('image/vnd.dxf')
    .header('x-content-type-options', 'nosniff')
    .header(
      'content-disposition',
      `attachment; filename="${ascii}"; filename*=UTF-8''${percentEncoded(fileName)}`,
    )
    .send(dxf);
}

/** As RFC 8187 wants it: `encodeURIComponent` leaves four characters alone that it does not allow. */
function percentEncoded(text: string): string {
  const encoded = encodeURIComponent(text);
  return encoded.replace(/['()*]/g, (character) => `%${character.charCodeAt(0).toString(16).toUpperCase()}`);
}
