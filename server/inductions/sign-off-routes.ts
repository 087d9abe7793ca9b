import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Ctx } from '../context.js';
import { type Tx, transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import type { House } from '../http/house.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders, idempotent } from '../http/idempotent.js';
import { accept } from '../http/refused.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import { declareAnew } from './declare-anew.js';
import { declareFounding } from './declare-founding.js';
import { revoke } from './revoke.js';
import {
  anewBody,
  declarationBody,
  revokeBody,
  signOffBody,
  signOffReply,
  signOffsQuery,
  signOffsReply,
} from './schemas.js';
import { signOff } from './sign-off.js';
import { signOffById, signOffsOf } from './sign-off-store.js';
import { signOffView } from './views.js';

const tags = ['inductions'];

/** Sign-offs: giving, seeing, taking back. */
export const signOffRoutes: FastifyPluginAsyncZod<House> = async (api, house) => {
  const { database, now, listeners } = house;
  const ctxOf = (request: Parameters<typeof actorOf>[0], tx: Tx): Ctx => ({
    actor: actorOf(request),
    now: now(),
    tx,
  });

  api.post(
    '/signoffs',
    {
      schema: {
        summary: 'Sign a member off for what they were watched doing; never oneself',
        tags,
        headers: idempotencyHeaders,
        body: signOffBody,
        response: { 201: signOffReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const key = request.headers['idempotency-key'];
      const signed = accept(
        await transact(database, (tx) => {
          const ctx = ctxOf(request, tx);
          return idempotent(ctx, { route: 'POST /signoffs', key, body, reply: signOffReply }, async () =>
            viewAfter(ctx, await signOff(ctx, listeners.signOffGiven, body)),
          );
        }),
      );
      return reply.code(201).send(signed);
    },
  );

  api.post(
    '/signoffs/declaration',
    {
      schema: {
        summary: 'The founding declaration: the founding admin’s own sign-offs, while nobody stewards',
        tags,
        headers: idempotencyHeaders,
        body: declarationBody,
        response: { 201: signOffsReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const key = request.headers['idempotency-key'];
      const declared = await transact(database, (tx) => {
        const ctx = ctxOf(request, tx);
        const asked = { route: 'POST /signoffs/declaration', key, body, reply: signOffsReply };
        return idempotent(ctx, asked, async () => {
          const ids = await declareFounding(ctx, body);
          if (ids instanceof Refusal) return ids;
          const own = await signOffsOf(tx, ctx.actor.memberId);
          return {
            items: own.filter(({ id }) => ids.includes(id)).map((made) => signOffView(made, ctx.now)),
            next: null,
          };
        });
      });
      return reply.code(201).send(accept(declared));
    },
  );

  api.post(
    '/signoffs/declaration/anew',
    {
      schema: {
        summary: 'An admin declares stewarding for themselves, without a witness, while nobody’s stands',
        tags,
        headers: idempotencyHeaders,
        body: anewBody,
        response: { 201: signOffReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const key = request.headers['idempotency-key'];
      const declared = await transact(database, (tx) => {
        const ctx = ctxOf(request, tx);
        const asked = { route: 'POST /signoffs/declaration/anew', key, body, reply: signOffReply };
        return idempotent(ctx, asked, async () => viewAfter(ctx, await declareAnew(ctx, body)));
      });
      return reply.code(201).send(accept(declared));
    },
  );

  api.get(
    '/signoffs',
    {
      schema: {
        summary: 'Everything a member was ever signed off for, latest first',
        tags,
        querystring: signOffsQuery,
        response: { 200: signOffsReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const { memberId = actor.memberId } = request.query;
      const seen = { by: 'sign-off-see', what: 'member' } as const;
      const forbidden = refusalUnless(actor, 'sign-off-see', { ownerId: memberId }, seen);
      if (forbidden !== undefined) accept(forbidden);
      const items = (await signOffsOf(database, memberId)).map((one) => signOffView(one, now()));
      return { items, next: null };
    },
  );

  api.delete(
    '/signoffs/:id',
    {
      schema: {
        summary: 'Revoke a sign-off, at once, with a reason that the member reads; never one’s own',
        tags,
        params: idParams,
        body: revokeBody,
        response: { 200: signOffReply },
      },
    },
    async (request) => {
      const wanted = { signOffId: request.params.id, reason: request.body.reason };
      return accept(
        await transact(database, async (tx) => {
          const ctx = ctxOf(request, tx);
          return viewAfter(ctx, await revoke(ctx, listeners.signOffEnded, wanted));
        }),
      );
    },
  );
};

/** The sign-off as it is after a command. */
async function viewAfter({ tx, now }: Ctx, outcome: string | Refusal) {
  if (outcome instanceof Refusal) return outcome;
  const signOffNow = await signOffById(tx, outcome);
  return signOffNow === undefined
    ? refuse('not-found', { figures: { what: 'sign-off' } })
    : signOffView(signOffNow, now);
}
