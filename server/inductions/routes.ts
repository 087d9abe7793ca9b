import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Ctx } from '../context.js';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import type { House } from '../http/house.js';
import { idempotencyHeaders, idempotent } from '../http/idempotent.js';
import { accept, refused } from '../http/refused.js';
import { may, refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import { answerPart } from './answer-part.js';
import { askForWitness, withdrawRequest } from './ask-for-witness.js';
import { ownWay } from './own-way.js';
import * as s from './schemas.js';
import { inductionOf, inductions, inductionVersion, openRequests, requestById } from './store.js';
import { competenceView, inductionView, witnessView } from './views.js';
import { addCompetence, writeContents } from './write-contents.js';

const tags = ['inductions'];

/** What there is to be signed off for: reading, answering, asking for a witness, writing. */
export const inductionRoutes: FastifyPluginAsyncZod<House> = async (api, house) => {
  const { database, now } = house;
  const ctxOf = (request: Parameters<typeof actorOf>[0], tx: Ctx['tx']): Ctx => ({
    actor: actorOf(request),
    now: now(),
    tx,
  });

  api.get(
    '/competences',
    {
      schema: {
        summary: 'What one can be signed off for, and how far one is oneself',
        tags,
        response: { 200: s.competencesReply },
      },
    },
    async (request) => {
      const way = await ownWay(database, actorOf(request).memberId);
      const items = (await inductions(database)).map((induction) => competenceView(induction, way, now()));
      return { items, next: null };
    },
  );

  api.post(
    '/competences',
    {
      schema: {
        summary: 'Add a competence with its first contents',
        tags,
        headers: idempotencyHeaders,
        body: s.competenceBody,
        response: { 201: s.writtenReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const key = request.headers['idempotency-key'];
      const written = accept(
        await transact(database, (tx) => {
          const ctx = ctxOf(request, tx);
          return idempotent(
            ctx,
            { route: 'POST /competences', key, body, reply: s.writtenReply },
            async () => {
              const version = await addCompetence(ctx, body);
              return version instanceof Refusal ? version : { competence: body.competence, version };
            },
          );
        }),
      );
      return reply.code(201).header('location', `/api/v1/competences/${written.competence}`).send(written);
    },
  );

  api.get(
    '/competences/:competence',
    {
      schema: {
        summary: 'The contents of an induction, the latest or one version',
        tags,
        params: s.competenceParams,
        querystring: s.inductionQuery,
        response: { 200: s.inductionReply },
      },
    },
    async (request) => {
      const { competence } = request.params;
      const { version } = request.query;
      const induction =
        version === undefined
          ? await inductionOf(database, competence)
          : await inductionVersion(database, competence, version);
      if (induction === undefined) throw refused('not-found', { figures: { what: 'induction' } });
      return inductionView(induction);
    },
  );

  api.put(
    '/competences/:competence',
    {
      schema: {
        summary: 'Write the next version of an induction',
        tags,
        params: s.competenceParams,
        body: s.contentsBody,
        response: { 200: s.writtenReply },
      },
    },
    async (request) => {
      const { competence } = request.params;
      const { basedOn, ...wanted } = request.body;
      const version = accept(
        await transact(database, (tx) =>
          writeContents(ctxOf(request, tx), { competence, ...wanted }, basedOn),
        ),
      );
      return { competence, version };
    },
  );

  api.post(
    '/competences/:competence/answers',
    {
      schema: {
        summary: 'Answer the questions of one part; half of them are kept too',
        tags,
        params: s.competenceParams,
        body: s.answersBody,
        response: { 200: s.answersReply },
      },
    },
    async (request) => {
      const { competence } = request.params;
      const outcome = accept(
        await transact(database, (tx) => answerPart(ctxOf(request, tx), { competence, ...request.body })),
      );
      return { done: outcome.done, questions: [...outcome.questions] };
    },
  );

  api.post(
    '/competences/:competence/witness',
    {
      schema: {
        summary: 'Ask for a witness, once every part is answered',
        tags,
        headers: idempotencyHeaders,
        params: s.competenceParams,
        body: s.witnessBody,
        response: { 201: s.witnessReply },
      },
    },
    async (request, reply) => {
      const { competence } = request.params;
      const body = { competence, ...request.body };
      const key = request.headers['idempotency-key'];
      const route = 'POST /competences/:competence/witness';
      const asked = await transact(database, (tx) => {
        const ctx = ctxOf(request, tx);
        return idempotent(ctx, { route, key, body, reply: s.witnessReply }, async () => {
          const id = await askForWitness(ctx, body);
          if (id instanceof Refusal) return id;
          const made = await requestById(tx, id);
          if (made === undefined) throw new Error(`Request ${id} is not there after it was written.`);
          return witnessView(made);
        });
      });
      return reply.code(201).send(accept(asked));
    },
  );

  api.delete(
    '/competences/:competence/witness',
    {
      schema: {
        summary: 'Withdraw the request for a witness',
        tags,
        params: s.competenceParams,
        response: { 204: z.void().meta({ description: 'Withdrawn.' }) },
      },
    },
    async (request, reply) => {
      accept(await transact(database, (tx) => withdrawRequest(ctxOf(request, tx), request.params)));
      return reply.code(204).send();
    },
  );

  api.get(
    '/witness-requests',
    {
      schema: {
        summary: 'Who waits for a witness, the longest first; of members their own',
        tags,
        response: { 200: s.witnessesReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      accept(refusalUnless(actor, 'induction-read', {}));
      const all = may(actor, 'sign-off-see', { ownerId: 'anybody' });
      const waiting = await openRequests(database, all ? null : actor.memberId);
      return { items: waiting.map(witnessView), next: null };
    },
  );
};
