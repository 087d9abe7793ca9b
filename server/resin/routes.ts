import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Queryable } from '../database/queryable.js';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import type { House } from '../http/house.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders, idempotent } from '../http/idempotent.js';
import { accept, refused } from '../http/refused.js';
import { Refusal } from '../reasons.js';
import { addGrade } from './add-grade.js';
import { reviseGrade } from './revise-grade.js';
import { gradeBody, gradeReply, gradesReply, gradeVersionBody, gradeVersionsReply } from './schemas.js';
import { gradeById, grades, gradeVersions } from './store.js';

const tags = ['resin'];

/** Resin grades of the house: polymer families as makers' data sheets have them. */
export const resinRoutes: FastifyPluginAsyncZod<House> = async (api, { database, now }) => {
  const grade = async (id: string, db: Queryable = database) => {
    const found = await gradeById(db, id);
    if (found === undefined) throw refused('not-found', { figures: { what: 'grade' } });
    return found;
  };

  api.get(
    '/grades',
    {
      schema: {
        summary: 'Resin grades in their latest version, by polymer and name',
        tags,
        response: { 200: gradesReply },
      },
    },
    // A house has a few dozen grades: the list always fits one page.
    async () => ({ items: [...(await grades(database))], next: null }),
  );

  api.get(
    '/grades/:id',
    {
      schema: {
        summary: 'A resin grade in its latest version',
        tags,
        params: idParams,
        response: { 200: gradeReply },
      },
    },
    async (request) => grade(request.params.id),
  );

  api.get(
    '/grades/:id/versions',
    {
      schema: {
        summary: 'Versions of a resin grade, the latest first, with who made them and why',
        tags,
        params: idParams,
        response: { 200: gradeVersionsReply },
      },
    },
    async (request) => {
      const { id } = await grade(request.params.id);
      return { items: [...(await gradeVersions(database, id))], next: null };
    },
  );

  api.post(
    '/grades',
    {
      schema: {
        summary: 'Add a resin grade with its data sheet named',
        tags,
        headers: idempotencyHeaders,
        body: gradeBody,
        response: { 201: gradeReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const added = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(ctx, { route: 'POST /grades', key, body, reply: gradeReply }, async () => {
            const id = await addGrade(ctx, body);
            return id instanceof Refusal ? id : grade(id, tx);
          });
        }),
      );
      return reply.code(201).send(added);
    },
  );

  api.post(
    '/grades/:id/versions',
    {
      schema: {
        summary: 'Make a version of a resin grade: another data sheet, or a figure put right',
        tags,
        params: idParams,
        headers: idempotencyHeaders,
        body: gradeVersionBody,
        response: { 201: gradeReply },
      },
    },
    async (request, reply) => {
      const { params } = request;
      const { basedOn, why, ...sheet } = request.body;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const body = { ...request.body, ...params };
      const made = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          const asked = { route: 'POST /grades/:id/versions', key, body, reply: gradeReply };
          return idempotent(ctx, asked, async () => {
            const version = await reviseGrade(ctx, { id: params.id, basedOn, why, sheet });
            return version instanceof Refusal ? version : grade(params.id, tx);
          });
        }),
      );
      return reply.code(201).send(made);
    },
  );
};
