import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { memberAsking } from '../http/asker.js';
import { cutPage } from '../http/cursor.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders } from '../http/idempotent.js';
import { accept } from '../http/refused.js';
import { may } from '../members/permissions.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { closeRun } from './close-run.js';
import { keepStep } from './keep-step.js';
import { openOnce } from './open-once.js';
import {
  closingBody,
  openBody,
  runReply,
  runsQuery,
  runsReply,
  stepBody,
  trialPlanReply,
} from './schemas.js';
import { runsOf } from './store.js';
import { bookedTrial } from './trial/booked-trial.js';
import { preparePlan } from './trial/plan.js';
import { planView, runLineView, runView, viewAfter } from './views.js';
import { visibleRun } from './visible-run.js';

const tags = ['runs'];

/** Opening a run, leading a trial, closing. */
export const runRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  const { database } = house;

  api.post(
    '/bookings/:id/run',
    {
      schema: {
        summary: 'Open a run of a booking, with the pre-use check ticked and another person within call',
        tags,
        params: idParams,
        headers: idempotencyHeaders,
        body: openBody,
        response: { 201: runReply },
      },
    },
    async (request, reply) => {
      const { preUse, withinCall = null, attendedBy = null } = request.body;
      const wanted = { bookingId: request.params.id, preUse, withinCall, attendedBy };
      const key = request.headers['idempotency-key'];
      const run = accept(await openOnce(house, actorOf(request), wanted, key));
      return reply.code(201).header('location', `/api/v1/runs/${run.id}`).send(run);
    },
  );

  api.get(
    '/bookings/:id/trial-plan',
    {
      schema: {
        summary: 'The steps of a booked trial as they are estimated now, on the mounted bolster',
        tags,
        params: idParams,
        response: { 200: trialPlanReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const booking = accept(await bookedTrial(database, actor, request.params.id));
      return planView(accept(await preparePlan(house, booking, memberAsking(actor))));
    },
  );

  api.get(
    '/runs',
    {
      schema: {
        summary: 'Runs, latest first: of one’s own bookings, for a steward everybody’s',
        tags,
        querystring: runsQuery,
        response: { 200: runsReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const { cursor = null, limit, mine = false } = request.query;
      const whose = mine || !may(actor, 'booking-see-whole') ? actor.memberId : null;
      const rows = await runsOf(database, whose, cursor, limit + 1);
      const page = cutPage(rows, limit, ({ openedAt, id }) => ({ at: openedAt, id }));
      return { ...page, items: page.items.map(runLineView) };
    },
  );

  api.get(
    '/runs/:id',
    {
      schema: {
        summary: 'A run, with what was kept of it',
        tags,
        params: idParams,
        response: { 200: runReply },
      },
    },
    async (request) =>
      runView(database, accept(await visibleRun(database, actorOf(request), request.params.id))),
  );

  api.post(
    '/runs/:id/steps',
    {
      schema: {
        summary: 'Keep what was set and seen at the step of a trial that is due, and where it led',
        tags,
        params: idParams,
        body: stepBody,
        response: { 201: runReply },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { note = null, photographId = null, ...body } = request.body;
      const wanted = { ...body, note, photograph: photographId, runId: request.params.id };
      const run = await transact(database, async (tx) => {
        const ctx = { actor, now: house.now(), tx };
        return viewAfter(ctx, await keepStep(ctx, wanted));
      });
      return reply.code(201).send(accept(run));
    },
  );

  api.post(
    '/runs/:id/closing',
    {
      schema: {
        summary: 'Close a run, once, with how it ended',
        tags,
        params: idParams,
        body: closingBody,
        response: { 201: runReply },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { outcome, note = null } = request.body;
      const run = await transact(database, async (tx) => {
        const ctx = { actor, now: house.now(), tx };
        return viewAfter(ctx, await closeRun(ctx, { runId: request.params.id, outcome, note }));
      });
      return reply.code(201).send(accept(run));
    },
  );
};
