import type { FastifyRequest } from 'fastify';
import type { Actor } from '../context.js';
import { addressOf } from './rate-limit.js';

/** Who asks for work that takes time: a member, or a stranger known by the address alone. */
export interface Asker {
  readonly name: string;
  readonly member: boolean;
}

export function askerOf(request: FastifyRequest): Asker {
  if (request.actor !== undefined) return memberAsking(request.actor);
  return { name: addressOf(request), member: false };
}

export function memberAsking({ memberId }: Pick<Actor, 'memberId'>): Asker {
  return { name: memberId, member: true };
}
