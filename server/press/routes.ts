import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { House } from '../http/house.js';
import { bolsterPage } from './schemas.js';
import { bolsters } from './store.js';
import { viewOfBolster } from './views.js';

/** What plates are drawn for; anyone may see it. */
export const pressRoutes: FastifyPluginAsyncZod<House> = async (api, { database }) => {
  api.get(
    '/bolsters',
    {
      config: { open: true },
      schema: {
        summary: 'Bolsters in their latest version, the mounted one first',
        tags: ['press'],
        response: { 200: bolsterPage },
      },
    },
    // A press has a handful of bolsters: the list always fits one page.
    async () => ({ items: (await bolsters(database)).map(viewOfBolster), next: null }),
  );
};
