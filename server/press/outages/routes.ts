import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import type { House } from '../../http/house.js';
import { idParams } from '../../http/id.js';
import { idempotencyHeaders, idempotent } from '../../http/idempotent.js';
import { accept } from '../../http/refused.js';
import { Refusal } from '../../reasons.js';
import { putBack } from './put-back.js';
import { equipmentReply, outageBody, outageReply, outagesReply } from './schemas.js';
import { equipmentPieces, outageById, outagesComing } from './store.js';
import { takeOut } from './take-out.js';

const tags = ['press'];

/** What is out of service, and when. */
export const outageRoutes: FastifyPluginAsyncZod<House> = async (api, house) => {
  const { database, now } = house;

  api.get(
    '/equipment',
    {
      schema: {
        summary: 'Everything that is booked or reserved here, the press first',
        tags,
        response: { 200: equipmentReply },
      },
    },
    async () => ({ items: [...(await equipmentPieces(database))], next: null }),
  );

  api.get(
    '/outages',
    {
      schema: {
        summary: 'Times out of service that stand and are not over, soonest first',
        tags,
        response: { 200: outagesReply },
      },
    },
    async () => ({ items: [...(await outagesComing(database, now()))], next: null }),
  );

  api.post(
    '/outages',
    {
      schema: {
        summary: 'Take a piece of equipment out of service; bookings that stand in that time need attention',
        tags,
        headers: idempotencyHeaders,
        body: outageBody,
        response: { 201: outageReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const outage = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(ctx, { route: 'POST /outages', key, body, reply: outageReply }, async () => {
            const id = await takeOut(ctx, { ...body, startsAt: body.startsAt ?? null }, house.listeners);
            if (id instanceof Refusal) return id;
            const made = await outageById(tx, id);
            if (made === undefined)
              throw new Error(`Time out of service ${id} is not there after it was made.`);
            return made;
          });
        }),
      );
      return reply.code(201).send(outage);
    },
  );

  api.delete(
    '/outages/:id',
    {
      schema: {
        summary: 'Put a piece of equipment back in service: what is left of the time can be booked again',
        tags,
        params: idParams,
        response: { 200: outageReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      return accept(
        await transact(database, async (tx) => {
          const id = await putBack({ actor, now: now(), tx }, request.params.id, house.listeners);
          if (id instanceof Refusal) return id;
          const ended = await outageById(tx, id);
          if (ended === undefined)
            throw new Error(`Time out of service ${id} is not there after it was ended.`);
          return ended;
        }),
      );
    },
  );
};
