import type { FastifyRequest } from 'fastify';
import { actorOf } from '../http/acting.js';
import { Refused } from '../http/refused.js';
import { refusalUnless } from '../members/permissions.js';

/** @throws Refused for who may see press and bolsters but not change them */
export function onlyEditors(request: FastifyRequest): void {
  const forbidden = refusalUnless(actorOf(request), 'press-edit', {});
  if (forbidden !== undefined) throw new Refused(forbidden);
}
