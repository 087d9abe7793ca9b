import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import type { House } from '../../http/house.js';
import { idParams } from '../../http/id.js';
import { idempotencyHeaders, idempotent } from '../../http/idempotent.js';
import { accept } from '../../http/refused.js';
import { Refusal } from '../../reasons.js';
import { addStackPart } from './add-stack-part.js';
import { editStackPart } from './edit-stack-part.js';
import { stackPartBody, stackPartChange, stackPartReply, stackPartsReply } from './schemas.js';
import { stackPart, stackParts } from './store.js';

const tags = ['press'];

/** Facing plates and packers on the rack. */
export const stackPartRoutes: FastifyPluginAsyncZod<House> = async (api, { database, now }) => {
  api.get(
    '/stack-parts',
    {
      schema: {
        summary: 'Facing plates and packers, those in service first, thinnest first',
        tags,
        response: { 200: stackPartsReply },
      },
    },
    // A rack holds a few dozen: the list always fits one page.
    async () => ({ items: [...(await stackParts(database))], next: null }),
  );

  api.post(
    '/stack-parts',
    {
      schema: {
        summary: 'Add a facing plate or a packer to the stock',
        tags,
        headers: idempotencyHeaders,
        body: stackPartBody,
        response: { 201: stackPartReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const part = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(
            ctx,
            { route: 'POST /stack-parts', key, body, reply: stackPartReply },
            async () => {
              const id = await addStackPart(ctx, body);
              if (id instanceof Refusal) return id;
              const added = await stackPart(tx, id);
              if (added === undefined) throw new Error(`Part ${id} is not there after it was added.`);
              return added;
            },
          );
        }),
      );
      return reply.code(201).send(part);
    },
  );

  api.patch(
    '/stack-parts/:id',
    {
      schema: {
        summary: 'Edit what is written about a facing plate or packer, or retire it',
        tags,
        params: idParams,
        body: stackPartChange,
        response: { 200: stackPartReply },
      },
    },
    async (request) => {
      const { basedOn, ...change } = request.body;
      const actor = actorOf(request);
      return accept(
        await transact(database, async (tx) => {
          const ctx = { actor, now: now(), tx };
          const id = await editStackPart(ctx, { id: request.params.id, basedOn, change });
          if (id instanceof Refusal) return id;
          const edited = await stackPart(tx, id);
          if (edited === undefined) throw new Error(`Part ${id} is not there after it was edited.`);
          return edited;
        }),
      );
    },
  );
};
