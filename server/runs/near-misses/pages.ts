import type { FastifyPluginAsync } from 'fastify';
import type { House } from '../../http/house.js';
import {
  postAnswer,
  postNearMiss,
  showNearMiss,
  showNearMisses,
  showNewNearMiss,
} from './near-miss-sheets.js';

/** Telling of a near miss, reading it, answering it. */
export const nearMissPages: FastifyPluginAsync<House> = async (pages, house) => {
  pages.get('/near-miss', (request, reply) => showNewNearMiss(request, reply, house));
  pages.post('/near-miss', (request, reply) => postNearMiss(request, reply, house));
  pages.get('/near-misses', (request, reply) => showNearMisses(request, reply, house));
  pages.get('/near-misses/:id', (request, reply) => showNearMiss(request, reply, house));
  pages.post('/near-misses/:id/answer', (request, reply) => postAnswer(request, reply, house));
};
