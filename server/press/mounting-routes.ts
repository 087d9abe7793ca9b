import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders, idempotent } from '../http/idempotent.js';
import { accept } from '../http/refused.js';
import { Refusal } from '../reasons.js';
import { foreseenOnWire } from '../shop/views.js';
import { addAnotherBolster } from './add-another-bolster.js';
import { mountingAhead } from './look-ahead.js';
import { mountBolster } from './mount-bolster.js';
import type { PressHouse } from './press-house.js';
import { bolsterBody, bolsterView, groundPreviewReply, mountingBody, mountingWish } from './schemas.js';
import { bolsterById } from './store.js';
import { bolsterOffWire, viewOfBolster } from './views.js';

const tags = ['press'];

/** Bolsters that are added, and the one that goes into the press. */
export const mountingRoutes: FastifyPluginAsyncZod<PressHouse> = async (api, house) => {
  const { database, now } = house;

  const bolster = async (id: string, db: Parameters<typeof bolsterById>[0]) => {
    const found = await bolsterById(db, id);
    if (found === undefined) throw new Error(`Bolster ${id} is not there.`);
    return viewOfBolster(found);
  };

  api.post(
    '/bolsters',
    {
      schema: {
        summary: 'Add a bolster beside the press; nothing is touched until it is mounted',
        tags,
        headers: idempotencyHeaders,
        body: bolsterBody,
        response: { 201: bolsterView },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const added = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(ctx, { route: 'POST /bolsters', key, body, reply: bolsterView }, async () => {
            const id = await addAnotherBolster(ctx, { ...body, facts: bolsterOffWire(body.facts) });
            return id instanceof Refusal ? id : bolster(id, tx);
          });
        }),
      );
      return reply.code(201).send(added);
    },
  );

  api.post(
    '/bolsters/:id/mounting/preview',
    {
      schema: {
        summary: 'What mounting this bolster would do to bookings and plates; nothing is kept',
        tags,
        params: idParams,
        body: mountingWish,
        response: { 200: groundPreviewReply },
      },
    },
    async (request) => {
      const wanted = { bolsterId: request.params.id, ...request.body };
      const { foreseen } = accept(await mountingAhead(house, actorOf(request), wanted));
      return { ...foreseenOnWire(foreseen), changed: [] };
    },
  );

  api.post(
    '/bolsters/:id/mounting',
    {
      schema: {
        summary:
          'Put this bolster in the press instead of the one that is in it; bookings that no longer fit need attention',
        tags,
        params: idParams,
        headers: idempotencyHeaders,
        body: mountingBody,
        response: { 201: bolsterView },
      },
    },
    async (request, reply) => {
      const { body, params } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const wanted = { bolsterId: params.id, ...body };
      const ahead = await mountingAhead(house, actor, wanted);
      const asked = { route: 'POST /bolsters/:id/mounting', key, body: wanted, reply: bolsterView };
      const mounted = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(ctx, asked, async () => {
            if (ahead instanceof Refusal) return ahead;
            const id = await mountBolster(ctx, wanted, ahead.foreseen, house.listeners);
            return id instanceof Refusal ? id : bolster(id, tx);
          });
        }),
      );
      return reply.code(201).send(mounted);
    },
  );
};
