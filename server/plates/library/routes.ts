import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { actorOf } from '../../http/acting.js';
import { memberAsking } from '../../http/asker.js';
import { cutPage } from '../../http/cursor.js';
import { may } from '../../members/permissions.js';
import type { CheckingHouse } from '../checking-house.js';
import { libraryQuery } from './filter.js';
import { libraryPlateView, libraryReply } from './schemas.js';
import { sketchMissing } from './sketch-missing.js';
import { libraryPlates } from './store.js';

/** The library: every plate one may see, by what is asked of it. */
export const libraryRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  api.get(
    '/library',
    {
      schema: {
        summary: 'Plates one may see, newest first, as far as they are what is asked',
        tags: ['plates'],
        querystring: libraryQuery,
        response: { 200: libraryReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const { cursor = null, limit, ...asked } = request.query;
      await sketchMissing(house, memberAsking(actor));
      const seenBy = { memberId: actor.memberId, seesAll: may(actor, 'plate-see', {}) };
      const rows = await libraryPlates(house.database, seenBy, asked, cursor, limit + 1);
      const page = cutPage(rows, limit, ({ createdAt, id }) => ({ at: createdAt, id }));
      return { ...page, items: page.items.map((plate) => libraryPlateView(plate, actor.memberId)) };
    },
  );
};
