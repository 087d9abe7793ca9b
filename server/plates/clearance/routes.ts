import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { actorOf } from '../../http/acting.js';
import { id as idSchema } from '../../http/id.js';
import { idempotencyHeaders } from '../../http/idempotent.js';
import { accept } from '../../http/refused.js';
import { Refusal, refuse } from '../../reasons.js';
import { checkGround } from '../check-ground.js';
import { revisionParams } from '../schemas.js';
import { revisionOf } from '../store.js';
import { visiblePlate } from '../visible-plate.js';
import { decideOnce, reworkOnce } from './clear.js';
import type { ClearanceHouse } from './clearance-house.js';
import { historyOf } from './history.js';
import { clearanceBody, clearanceHistoryReply, clearanceReply, reworkBody, reworkReply } from './schemas.js';
import { standingClearance } from './standing.js';
import { clearanceView } from './views.js';
import { decisionOf } from './wanted.js';

const tags = ['plates'];
const historyQuery = z.object({ bolsterId: idSchema.optional() });

/** Clearing plates, step by step, for stewards; what was decided, for who sees the plate. */
export const clearanceRoutes: FastifyPluginAsyncZod<ClearanceHouse> = async (api, house) => {
  const { database } = house;

  api.post(
    '/plates/:id/revisions/:revision/clearance',
    {
      schema: {
        summary: 'Clear, refuse or take back a step of somebody else’s plate',
        tags,
        params: revisionParams,
        headers: idempotencyHeaders,
        body: clearanceBody,
        response: { 201: clearanceReply },
      },
    },
    async (request, reply) => {
      const { id, revision } = request.params;
      const wanted = accept(decisionOf(request.body, { plateId: id, revision }));
      const key = request.headers['idempotency-key'];
      return reply.code(201).send(accept(await decideOnce(house, actorOf(request), wanted, key)));
    },
  );

  api.post(
    '/plates/:id/revisions/:revision/rework',
    {
      schema: {
        summary: 'Say that the metal of a plate was changed: it goes back to be measured, on every bolster',
        tags,
        params: revisionParams,
        headers: idempotencyHeaders,
        body: reworkBody,
        response: { 201: reworkReply },
      },
    },
    async (request, reply) => {
      const { id: plateId, revision } = request.params;
      const wanted = { plateId, revision, reason: request.body.reason };
      const key = request.headers['idempotency-key'];
      return reply.code(201).send(accept(await reworkOnce(house, actorOf(request), wanted, key)));
    },
  );

  api.get(
    '/plates/:id/revisions/:revision/clearance',
    {
      schema: {
        summary: 'How far a revision has come on a bolster, and everything decided about it, latest first',
        tags,
        params: revisionParams,
        querystring: historyQuery,
        response: { 200: clearanceHistoryReply },
      },
    },
    async (request) => {
      const { id: plateId, revision } = request.params;
      const plate = accept(await visiblePlate(database, actorOf(request), plateId));
      if ((await revisionOf(database, plateId, revision)) === undefined)
        accept(refuse('not-found', { figures: { what: 'revision' } }));
      const ground = await checkGround(database, house.now(), request.query.bolsterId ?? null);
      if (ground instanceof Refusal && request.query.bolsterId !== undefined) accept(ground);
      const standing =
        ground instanceof Refusal
          ? null
          : await standingClearance(database, {
              plateId,
              revision,
              bolsterId: ground.bolster.id,
              bolsterVersion: ground.bolster.version,
            });
      const since = await historyOf(database, plate);
      return {
        reached: standing?.reached ?? 'none',
        polymers: [...(standing?.polymers ?? [])],
        items: since.decisions
          .filter((made) => made.revision === revision)
          .map((made) => clearanceView(made, since)),
        next: null,
      };
    },
  );
};
