import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import { idParams } from '../../http/id.js';
import { accept } from '../../http/refused.js';
import { Refusal } from '../../reasons.js';
import type { CheckingHouse } from '../checking-house.js';
import { visiblePlate } from '../visible-plate.js';
import { keepPhotographOfForm, takesPhotograph } from './photograph-of-form.js';
import { removePhotograph } from './remove-photograph.js';
import {
  photographBody,
  photographParams,
  photographQuery,
  photographReply,
  photographsReply,
} from './schemas.js';
import { sendPhotograph } from './send-photograph.js';
import { type Photograph, photographsOfPlate } from './store.js';
import { visiblePhotograph } from './visible-photograph.js';

const tags = ['photographs'];
const JPEG = { description: 'A JPEG file.', content: { 'image/jpeg': { schema: z.string() } } };

/** Photographs of plates and bolsters. */
export const photographRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  const { database } = house;

  api.get(
    '/plates/:id/photographs',
    {
      schema: {
        summary: 'The photographs of a plate, oldest first',
        tags,
        params: idParams,
        response: { 200: photographsReply },
      },
    },
    async (request) => {
      const plate = accept(await visiblePlate(database, actorOf(request), request.params.id));
      const photographs = await photographsOfPlate(database, plate.id);
      return { items: photographs.map(photographView), next: null };
    },
  );

  api.post(
    '/plates/:id/photographs',
    {
      config: takesPhotograph,
      schema: {
        summary: 'Add a photograph of a plate, as a form with the file `photograph`',
        description:
          'It is drawn anew: turned upright, 1600 pixels at most, without what the camera wrote beside it.',
        tags,
        consumes: ['multipart/form-data'],
        params: idParams,
        body: photographBody,
        response: { 201: photographReply },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { caption = '', revision } = request.body;
      const wish = { plateId: request.params.id, revision, caption };
      const photographId = accept(await keepPhotographOfForm(request, house, actor, wish));
      const photograph = accept(await visiblePhotograph(database, actor, photographId));
      return reply
        .code(201)
        .header('location', `/api/v1/photographs/${photographId}`)
        .send(photographView(photograph));
    },
  );

  api.get(
    '/photographs/:id',
    {
      schema: {
        summary: 'A photograph, whole or small',
        tags,
        params: photographParams,
        querystring: photographQuery,
        response: { 200: JPEG },
      },
    },
    async (request, reply) => {
      const { id } = accept(await visiblePhotograph(database, actorOf(request), request.params.id));
      return sendPhotograph(reply, database, id, request.query.size);
    },
  );

  api.delete(
    '/photographs/:id',
    {
      schema: {
        summary: 'Remove a photograph: who kept it may, and stewards',
        tags,
        params: photographParams,
        response: { 204: z.null() },
      },
    },
    async (request, reply) => {
      const ctx = { actor: actorOf(request), now: house.now() };
      const removed = await transact(database, async (tx) =>
        removePhotograph({ ...ctx, tx }, request.params.id),
      );
      if (removed instanceof Refusal) accept(removed);
      return reply.code(204).send(null);
    },
  );
};

function photographView({ keptBy: _id, keptByName, ...photograph }: Photograph) {
  return { ...photograph, keptBy: keptByName };
}
