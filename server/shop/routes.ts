import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cutPage, pageQuery } from '../http/cursor.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders, idempotent } from '../http/idempotent.js';
import { accept } from '../http/refused.js';
import { Refusal } from '../reasons.js';
import { close } from './close.js';
import { closureById, closuresComing } from './closure-store.js';
import { liftClosure } from './lift-closure.js';
import { lookAhead } from './look-ahead.js';
import {
  closureBody,
  closureReply,
  closuresReply,
  rulesBody,
  rulesListReply,
  rulesPreviewReply,
  rulesReply,
} from './schemas.js';
import { setRules } from './set-rules.js';
import type { ShopHouse } from './shop-house.js';
import { rulesInForceAndComing, rulesVersion } from './store.js';
import { closureView, previewView, rulesView } from './views.js';

const tags = ['shop'];

/** The workshop's own limits, and when it is closed. */
export const shopRoutes: FastifyPluginAsyncZod<ShopHouse> = async (api, house) => {
  const { database, now } = house;

  api.get(
    '/shop-rules',
    {
      schema: {
        summary: 'The shop rules in force, and versions still to come, in the order in which they hold',
        tags,
        response: { 200: rulesListReply },
      },
    },
    async () => ({ items: (await rulesInForceAndComing(database, now())).map(rulesView), next: null }),
  );

  api.post(
    '/shop-rules/preview',
    {
      schema: {
        summary: 'What a change of the shop rules would do; nothing is kept',
        tags,
        body: rulesBody,
        response: { 200: rulesPreviewReply },
      },
    },
    async (request) => {
      const { changes, validFrom = null } = request.body;
      const looked = accept(await lookAhead(house, actorOf(request), { changes, validFrom }));
      return previewView(looked.proposal, looked.foreseen, looked.basedOn, looked.aboveQuota);
    },
  );

  api.post(
    '/shop-rules',
    {
      schema: {
        summary:
          'Add a version of the shop rules; bookings that no longer fit need attention, and their members are told',
        tags,
        headers: idempotencyHeaders,
        body: rulesBody,
        response: { 201: rulesReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const wanted = { changes: body.changes, validFrom: body.validFrom ?? null };
      const looked = await lookAhead(house, actor, wanted);
      const version = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(ctx, { route: 'POST /shop-rules', key, body, reply: rulesReply }, async () => {
            if (looked instanceof Refusal) return looked;
            const confirmed = { ...wanted, basedOn: body.basedOn ?? null, foreseen: looked.foreseen };
            const set = await setRules(ctx, confirmed, house.listeners);
            if (set instanceof Refusal) return set;
            const added = await rulesVersion(tx, set);
            if (added === undefined) throw new Error(`Version ${set} is not there after it was added.`);
            return rulesView(added);
          });
        }),
      );
      return reply.code(201).send(version);
    },
  );

  api.get(
    '/closures',
    {
      schema: {
        summary: 'Closures that stand and are not over, soonest first',
        tags,
        querystring: pageQuery,
        response: { 200: closuresReply },
      },
    },
    async (request) => {
      const { cursor: after = null, limit } = request.query;
      const rows = await closuresComing(database, now(), after, limit + 1);
      const page = cutPage(rows, limit, ({ startsAt, id }) => ({ at: startsAt, id }));
      return { ...page, items: page.items.map(closureView) };
    },
  );

  api.post(
    '/closures',
    {
      schema: {
        summary: 'Close the workshop for a time; refused, with each of them, where bookings stand in it',
        tags,
        headers: idempotencyHeaders,
        body: closureBody,
        response: { 201: closureReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const closure = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(ctx, { route: 'POST /closures', key, body, reply: closureReply }, async () => {
            const closed = await close(ctx, { ...body, startsAt: body.startsAt ?? null }, house);
            if (closed instanceof Refusal) return closed;
            const made = await closureById(tx, closed);
            if (made === undefined) throw new Error(`Closure ${closed} is not there after it was made.`);
            return closureView(made);
          });
        }),
      );
      return reply.code(201).send(closure);
    },
  );

  api.delete(
    '/closures/:id',
    {
      schema: {
        summary: 'Lift a closure: its time can be booked again',
        tags,
        params: idParams,
        response: { 200: closureReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      return accept(
        await transact(database, async (tx) => {
          const lifted = await liftClosure({ actor, now: now(), tx }, request.params.id);
          if (lifted instanceof Refusal) return lifted;
          const closure = await closureById(tx, lifted);
          if (closure === undefined) throw new Error(`Closure ${lifted} is not there after it was lifted.`);
          return closureView(closure);
        }),
      );
    },
  );
};
