import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import type { House } from '../../http/house.js';
import { idempotencyHeaders, idempotent } from '../../http/idempotent.js';
import { accept, refused } from '../../http/refused.js';
import { Refusal } from '../../reasons.js';
import { thePress } from '../store.js';
import { recordInspection } from './record-inspection.js';
import { inspectionBody, inspectionReply, inspectionsReply } from './schemas.js';
import { inspectionById, inspectionDue, inspections } from './store.js';

const tags = ['press'];

/** Inspections of the press, and when the next is due. */
export const inspectionRoutes: FastifyPluginAsyncZod<House> = async (api, { database, now }) => {
  api.get(
    '/inspections',
    {
      schema: {
        summary: 'Inspections of the press, the last recorded first, and when the next is due',
        tags,
        response: { 200: inspectionsReply },
      },
    },
    async () => {
      const press = await thePress(database);
      if (press === undefined) throw refused('not-found', { figures: { what: 'press' } });
      const [items, due] = await Promise.all([
        inspections(database, press.id),
        inspectionDue(database, press.id, now()),
      ]);
      return { ...due, items: [...items], next: null };
    },
  );

  api.post(
    '/inspections',
    {
      schema: {
        summary: 'Record an inspection of the press; what is recorded stays',
        tags,
        headers: idempotencyHeaders,
        body: inspectionBody,
        response: { 201: inspectionReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const inspection = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          const asked = { route: 'POST /inspections', key, body, reply: inspectionReply };
          return idempotent(ctx, asked, async () => {
            const id = await recordInspection(ctx, body);
            if (id instanceof Refusal) return id;
            const recorded = await inspectionById(tx, id);
            if (recorded === undefined)
              throw new Error(`Inspection ${id} is not there after it was recorded.`);
            return recorded;
          });
        }),
      );
      return reply.code(201).send(inspection);
    },
  );
};
