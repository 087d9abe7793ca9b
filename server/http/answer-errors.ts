import type { FastifyReply, FastifyRequest } from 'fastify';
import { type Refusal, refuse } from '../reasons.js';
import { refusalOf } from './refusal-of.js';
import { methodsAt } from './route-book.js';

/**
 * What to answer to a thrown error. A fault of ours is logged whole, with method and route, and answered by a
 * fixed sentence.
 */
export function refusalToAnswer(error: unknown, request: FastifyRequest): Refusal {
  const refusal = refusalOf(error);
  if (refusal !== undefined) return refusal;
  request.log.error(
    { err: error, method: request.method, route: loggableAddress(request) },
    'something broke',
  );
  return refuse('something-broke', { figures: { requestId: request.id } });
}

/** What to answer where no route is: the address is unknown, or it takes other methods. */
export function refusalWithoutRoute(request: FastifyRequest, reply: FastifyReply): Refusal {
  const methods = methodsAt(request.server.routeBook, request.url);
  if (methods.length === 0 || methods.includes(request.method)) return refuse('not-found');
  reply.header('allow', methods.join(', '));
  return refuse('method-not-allowed', { figures: { method: request.method } });
}

/** The address without what may be secret in it: the route's own pattern, or the path alone. */
function loggableAddress(request: FastifyRequest): string {
  return request.routeOptions.url ?? request.url.split('?')[0] ?? '';
}
