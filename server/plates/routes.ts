import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Ctx } from '../context.js';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cutPage } from '../http/cursor.js';
import { idParams } from '../http/id.js';
import { accept, refused } from '../http/refused.js';
import { Refusal } from '../reasons.js';
import { changePlate } from './change-plate.js';
import { checkRoutes } from './check-routes.js';
import type { CheckingHouse } from './checking-house.js';
import { comparisonRoutes } from './comparison/routes.js';
import { damageRoutes } from './damage/routes.js';
import { handOverPlate } from './hand-over-plate.js';
import { keepRoutes } from './keep-routes.js';
import { libraryRoutes } from './library/routes.js';
import { photographRoutes } from './photographs/routes.js';
import {
  changeBody,
  ownerBody,
  platesQuery,
  platesReply,
  revisionParams,
  wholePlateReply,
} from './schemas.js';
import { sendDrawing } from './send-drawing.js';
import { drawingOf, visiblePlates } from './store.js';
import { plateView } from './views.js';
import { platesSeen, visiblePlate, wholePlate } from './visible-plate.js';

const tags = ['plates'];

/** Reading and checking drawings, for anyone; keeping plates and all that becomes of them, for members. */
export const plateRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  const { database, listeners } = house;
  await api.register(checkRoutes, house);
  await api.register(keepRoutes, house);
  await api.register(photographRoutes, house);
  await api.register(comparisonRoutes, house);
  await api.register(libraryRoutes, house);
  await api.register(damageRoutes, house);

  api.get(
    '/plates',
    {
      schema: {
        summary: 'Own plates, newest first; for stewards everybody’s; or what others share',
        tags,
        querystring: platesQuery,
        response: { 200: platesReply },
      },
    },
    async (request) => {
      const { cursor = null, limit, cleared = null, shared = false } = request.query;
      const actor = actorOf(request);
      const of = shared ? { sharedWith: actor.memberId } : platesSeen(actor);
      const rows = await visiblePlates(database, of, cursor, limit + 1, cleared);
      const page = cutPage(rows, limit, ({ createdAt, id }) => ({ at: createdAt, id }));
      return { ...page, items: page.items.map((plate) => plateView(plate, plate.cleared)) };
    },
  );

  api.get(
    '/plates/:id',
    {
      schema: {
        summary: 'A plate with its revisions',
        tags,
        params: idParams,
        response: { 200: wholePlateReply },
      },
    },
    async (request) => accept(await wholePlate(database, actorOf(request), request.params.id)),
  );

  api.patch(
    '/plates/:id',
    {
      schema: {
        summary:
          'Name a plate anew, share it, say where it lies and how it is, retire it; all that is given or nothing',
        tags,
        params: idParams,
        body: changeBody,
        response: { 200: wholePlateReply },
      },
    },
    async (request) => {
      const plateId = request.params.id;
      return changed(request, plateId, (ctx) => changePlate(ctx, { ...request.body, plateId }, listeners));
    },
  );

  api.put(
    '/plates/:id/owner',
    {
      schema: {
        summary: 'Hand a plate over: its owner at any time, a steward once the owner has left',
        tags,
        params: idParams,
        body: ownerBody,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      const wish = { plateId: request.params.id, memberId: request.body.memberId };
      const ctx = { actor: actorOf(request), now: house.now() };
      accept(await transact(database, (tx) => handOverPlate({ ...ctx, tx }, wish, listeners)));
      return reply.code(204).send(null);
    },
  );

  api.get(
    '/plates/:id/revisions/:revision/drawing',
    {
      schema: {
        summary: 'The drawing as it was handed in',
        tags,
        params: revisionParams,
        response: {
          200: {
            description: 'A DXF file.',
            content: { 'image/vnd.dxf': { schema: z.string() } },
          },
        },
      },
    },
    async (request, reply) => {
      const { id, revision } = request.params;
      accept(await visiblePlate(database, actorOf(request), id));
      const file = await drawingOf(database, id, revision);
      if (file === undefined) throw refused('not-found', { figures: { what: 'revision' } });
      return sendDrawing(reply, file);
    },
  );

  /** Runs a command on a plate and answers with the plate as it is then. */
  async function changed(
    request: FastifyRequest,
    plateId: string,
    command: (ctx: Ctx) => Promise<string | Refusal>,
  ) {
    const actor = actorOf(request);
    const outcome = await transact(database, async (tx) => {
      const done = await command({ actor, now: house.now(), tx });
      return done instanceof Refusal ? done : wholePlate(tx, actor, plateId);
    });
    return accept(outcome);
  }
};
