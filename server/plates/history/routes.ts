import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { actorOf } from '../../http/acting.js';
import { idParams } from '../../http/id.js';
import { instant } from '../../http/instant.js';
import { accept } from '../../http/refused.js';
import type { HistoryHouse } from './history-house.js';
import { plateHistory } from './plate-history.js';

const eventReply = z
  .object({
    at: instant,
    kind: z.string().meta({ description: 'An action of the trail, `clearance` or `run`.' }),
    who: z.string().meta({ description: 'Display name of who did it.' }),
    text: z.string().meta({ description: 'What was done, going on from who did it.' }),
    note: z.string().meta({ description: 'What was said or measured; may be empty.' }),
    href: z.string().nullable().meta({ description: 'Path of the page where it is seen whole.' }),
  })
  .meta({ id: 'PlateEvent' });

export const historyReply = z.object({
  items: z.array(eventReply),
  next: z.null(),
  counts: z.object({ bookings: z.int(), coming: z.int(), trials: z.int(), runs: z.int() }),
});

/** What happened to a plate. */
export const plateHistoryRoutes: FastifyPluginAsyncZod<HistoryHouse> = async (api, house) => {
  api.get(
    '/plates/:id/history',
    {
      schema: {
        summary: 'Everything that happened to a plate, in the order of time',
        tags: ['plates'],
        params: idParams,
        response: { 200: historyReply },
      },
    },
    async (request) => {
      const timeZone = await house.timeZone();
      const history = accept(await plateHistory(house, actorOf(request), request.params.id, timeZone));
      return { items: [...history.events], next: null, counts: history.counts };
    },
  );
};
