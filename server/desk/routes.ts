import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { actorOf } from '../http/acting.js';
import { Refused } from '../http/refused.js';
import { type DeskHouse, noDeskFor } from './desk-house.js';
import { deskReply } from './schemas.js';
import { allWaiting } from './waiting.js';

/** What waits for a steward. */
export const deskRoutes: FastifyPluginAsyncZod<DeskHouse> = async (api, house) => {
  api.get(
    '/desk',
    {
      schema: {
        summary: 'What waits for a steward, the most pressing first in each group',
        tags: ['desk'],
        response: { 200: deskReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const forbidden = noDeskFor(actor);
      if (forbidden !== undefined) throw new Refused(forbidden);
      const asked = { db: house.database, now: house.now(), actor, timeZone: await house.timeZone() };
      const lines = await allWaiting(house.queues, asked);
      return { items: lines.map(({ button: _page, ...line }) => line), next: null };
    },
  );
};
