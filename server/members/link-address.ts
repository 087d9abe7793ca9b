import type { FastifyRequest } from 'fastify';
import type { House } from '../http/house.js';
import { ownOrigin } from '../http/same-origin.js';

/** The whole address of a link, as it is copied and handed over. */
export function linkAddress(request: FastifyRequest, { settings }: House, path: string): string {
  return `${ownOrigin(request, settings)}${path}`;
}
