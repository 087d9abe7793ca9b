import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { actorOf } from '../../http/acting.js';
import { idParams } from '../../http/id.js';
import { accept } from '../../http/refused.js';
import type { CheckingHouse } from '../checking-house.js';
import { visiblePlate } from '../visible-plate.js';
import { comparePlate } from './compare-plate.js';
import { compareQuery, comparisonReply } from './schemas.js';
import { sidesAsked } from './sides-asked.js';
import { comparisonView } from './view.js';

/** Two revisions, resins or bolsters of a plate side by side. */
export const comparisonRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  api.get(
    '/plates/:id/compare',
    {
      schema: {
        summary: 'Two revisions, two resins or two bolsters of a plate side by side',
        tags: ['plates'],
        params: idParams,
        querystring: compareQuery,
        response: { 200: comparisonReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const plate = accept(await visiblePlate(house.database, actor, request.params.id));
      const sides = accept(sidesAsked(plate, request.query));
      return comparisonView(accept(await comparePlate(house, actor, { plateId: plate.id, ...sides })));
    },
  );
};
