import type { FastifyPluginAsync } from 'fastify';
import { partsExample } from '../pictures/parts-example.js';
import type { House } from './house.js';
import { sendSheet } from './sheet.js';

/** For developers: every part of the face once. Production has no use for it. */
export const partsPage: FastifyPluginAsync<House> = async (pages, house) => {
  if (house.settings.production) return;
  pages.get('/parts', { config: { open: true } }, (request, reply) =>
    sendSheet(request, reply, house, 'parts/parts', { title: 'Parts' }, partsExample()),
  );
};
