import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { actorOf } from '../../http/acting.js';
import { accept } from '../../http/refused.js';
import type { CheckingHouse } from '../checking-house.js';
import { revisionParams } from '../schemas.js';
import { cuttingOfRevision } from './cutting-of-revision.js';
import { cuttingListReply } from './schemas.js';

/** What a workshop needs to cut a plate, for who may see it. */
export const cuttingListRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  api.get(
    '/plates/:id/revisions/:revision/cutting-list',
    {
      schema: {
        summary: 'Blank, cutters, holes and sinks, order of work, and what to measure after',
        tags: ['plates'],
        params: revisionParams,
        response: { 200: cuttingListReply },
      },
    },
    async (request) => {
      const { id: plateId, revision } = request.params;
      const asked = { plateId, revision };
      const { cutting } = accept(await cuttingOfRevision(house, actorOf(request), asked));
      return cuttingListReply.parse({ ...cutting, ...asked });
    },
  );
};
