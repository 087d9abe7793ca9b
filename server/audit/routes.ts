import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { actorOf } from '../http/acting.js';
import type { House } from '../http/house.js';
import { trailQuery, trailReply } from './schemas.js';
import { trailSeenBy } from './seen.js';
import { trailOf } from './store.js';
import { cutTrail, trailView } from './views.js';

/** What was done, by whom and when. */
export const auditRoutes: FastifyPluginAsyncZod<House> = async (api, { database, timeZone }) => {
  api.get(
    '/trail',
    {
      schema: {
        summary: 'The trail, latest first: own entries, as a steward the floor’s, as an admin all',
        tags: ['trail'],
        querystring: trailQuery,
        response: { 200: trailReply },
      },
    },
    async (request) => {
      const { cursor: before = null, limit, actorId = null, subjectKind, subjectId } = request.query;
      const subject =
        subjectKind === undefined || subjectId === undefined ? null : { kind: subjectKind, id: subjectId };
      const seen = trailSeenBy(actorOf(request));
      const entries = await trailOf(database, { seen, actorId, subject, before, limit: limit + 1 });
      const page = cutTrail(entries, limit);
      const zone = await timeZone();
      return { ...page, items: page.items.map((entry) => trailView(entry, zone)) };
    },
  );
};
