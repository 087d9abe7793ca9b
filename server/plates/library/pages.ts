import type { FastifyPluginAsync } from 'fastify';
import type { CheckingHouse } from '../checking-house.js';
import { showLabel, showLabels } from './labels-page.js';
import { showLibrary } from './library-page.js';

/** The library of plates, and the labels that they carry. */
export const libraryPages: FastifyPluginAsync<CheckingHouse> = async (pages, house) => {
  pages.get('/library', (request, reply) => showLibrary(request, reply, house));
  pages.get('/library/labels', (request, reply) => showLabels(request, reply, house));
  pages.get('/plates/:id/label', (request, reply) => showLabel(request, reply, house));
};
