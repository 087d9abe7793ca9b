import type { FastifyReply, FastifyRequest } from 'fastify';
import type { House } from '../http/house.js';
import { justDone } from '../http/told-once.js';
import { PRESS_JUST_DONE } from '../words/en/press.js';

/** What somebody has just done in this room, told once. */
export function doneNotices(request: FastifyRequest, reply: FastifyReply, house: House) {
  const done = justDone(request, reply, house);
  return PRESS_JUST_DONE.filter(({ what }) => what === done);
}
