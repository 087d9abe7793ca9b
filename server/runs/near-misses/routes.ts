import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Ctx } from '../../context.js';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import { cutPage, pageQuery } from '../../http/cursor.js';
import type { House } from '../../http/house.js';
import { idParams } from '../../http/id.js';
import { idempotencyHeaders, idempotent } from '../../http/idempotent.js';
import { accept } from '../../http/refused.js';
import { may } from '../../members/permissions.js';
import { Refusal } from '../../reasons.js';
import { answerNearMiss } from './answer-near-miss.js';
import { reportNearMiss } from './report-near-miss.js';
import { answerBody, nearMissBody, nearMissesReply, nearMissReply, nearMissView } from './schemas.js';
import { nearMissById, nearMissesOf } from './store.js';
import { visibleNearMiss } from './visible-near-miss.js';

const tags = ['near misses'];

/** What nearly went wrong, told by anybody, answered by stewards. */
export const nearMissRoutes: FastifyPluginAsyncZod<House> = async (api, house) => {
  const { database } = house;

  api.post(
    '/near-misses',
    {
      schema: {
        summary: 'Tell of a near miss, or of an accident, once people are safe',
        tags,
        headers: idempotencyHeaders,
        body: nearMissBody,
        response: { 201: nearMissReply },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { body } = request;
      const { happenedAt = null, place, what, hurt } = body;
      const key = request.headers['idempotency-key'];
      const nearMiss = await transact(database, (tx) => {
        const ctx = { actor, now: house.now(), tx };
        const asked = { route: 'POST /near-misses', key, body, reply: nearMissReply };
        return idempotent(ctx, asked, async () =>
          viewAfter(ctx, await reportNearMiss(ctx, { happenedAt, place, what, hurt })),
        );
      });
      return reply.code(201).send(accept(nearMiss));
    },
  );

  api.get(
    '/near-misses',
    {
      schema: {
        summary: 'Near misses, latest first: those one has told of, for a steward all',
        tags,
        querystring: pageQuery,
        response: { 200: nearMissesReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const { cursor = null, limit } = request.query;
      const whose = may(actor, 'near-miss-see') ? null : actor.memberId;
      const rows = await nearMissesOf(database, whose, cursor, limit + 1);
      const page = cutPage(rows, limit, ({ reportedAt, id }) => ({ at: reportedAt, id }));
      return { ...page, items: page.items.map(nearMissView) };
    },
  );

  api.get(
    '/near-misses/:id',
    { schema: { summary: 'A near miss', tags, params: idParams, response: { 200: nearMissReply } } },
    async (request) =>
      nearMissView(accept(await visibleNearMiss(database, actorOf(request), request.params.id))),
  );

  api.post(
    '/near-misses/:id/answer',
    {
      schema: {
        summary: 'Say what was done about a near miss',
        tags,
        params: idParams,
        body: answerBody,
        response: { 201: nearMissReply },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const wanted = { nearMissId: request.params.id, done: request.body.done };
      const nearMiss = await transact(database, async (tx) => {
        const ctx = { actor, now: house.now(), tx };
        return viewAfter(ctx, await answerNearMiss(ctx, wanted));
      });
      return reply.code(201).send(accept(nearMiss));
    },
  );
};

async function viewAfter({ tx }: Ctx, outcome: string | Refusal) {
  if (outcome instanceof Refusal) return outcome;
  const nearMiss = await nearMissById(tx, outcome);
  if (nearMiss === undefined) throw new Error(`Near miss ${outcome} is not there after it was written.`);
  return nearMissView(nearMiss);
}
