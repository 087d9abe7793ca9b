import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import type { Actor } from '../context.js';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cutPage } from '../http/cursor.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders, idempotent } from '../http/idempotent.js';
import { accept, refused } from '../http/refused.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { polymerNamed } from '../plates/polymer-named.js';
import { transactWithReport } from '../plates/transact-with-report.js';
import { book } from './book.js';
import { cancel } from './cancel.js';
import { move } from './move.js';
import { bookingBody, bookingReply, bookingsQuery, bookingsReply, cancelBody, moveBody } from './schemas.js';
import { type Booking, bookingById, bookingsBetween, bookingsOf } from './store.js';
import { bookingView, viewAfter } from './views.js';

const tags = ['bookings'];

/** As far ahead as a list goes when it is not told where to end. */
const FAR_AHEAD = new Date('9999-12-31T00:00:00Z');

/** Press time: who has it, and having it oneself. */
export const bookingRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  api.post(
    '/bookings',
    {
      schema: {
        summary: 'Book the press with a plate of one’s own',
        tags,
        headers: idempotencyHeaders,
        body: bookingBody,
        response: { 201: bookingReply },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const polymer = accept(polymerNamed(body.polymer));
      const key = request.headers['idempotency-key'];
      const booking = accept(
        await transactWithReport(house, actorOf(request), (ctx) =>
          idempotent(ctx, { route: 'POST /bookings', key, body, reply: bookingReply }, async () =>
            viewAfter(ctx, await book(ctx, { ...body, polymer, shots: body.shots ?? null })),
          ),
        ),
      );
      return reply.code(201).header('location', `/api/v1/bookings/${booking.id}`).send(booking);
    },
  );

  api.get(
    '/bookings',
    {
      schema: {
        summary: 'Bookings by time; of others’ the time, equipment, name and polymer',
        tags,
        querystring: bookingsQuery,
        response: { 200: bookingsReply },
      },
    },
    async (request) => {
      const { query } = request;
      const actor = actorOf(request);
      const rows = await listed(house, actor, query);
      const page = cutPage(rows, query.limit, ({ startsAt, id }) => ({ at: startsAt, id }));
      return { ...page, items: page.items.map((booking) => bookingView(actor, booking)) };
    },
  );

  api.get(
    '/bookings/:id',
    {
      schema: {
        summary: 'One booking, as far as it is to be seen',
        tags,
        params: idParams,
        response: { 200: bookingReply },
      },
    },
    async (request) => {
      const booking = await bookingById(house.database, request.params.id);
      if (booking === undefined) throw refused('not-found', { figures: { what: 'booking' } });
      return bookingView(actorOf(request), booking);
    },
  );

  api.patch(
    '/bookings/:id',
    {
      schema: {
        summary: 'Move an own booking to another time',
        tags,
        params: idParams,
        body: moveBody,
        response: { 200: bookingReply },
      },
    },
    async (request) => {
      const { startsAt = null, endsAt = null } = request.body;
      const wanted = { bookingId: request.params.id, startsAt, endsAt };
      return accept(
        await transactWithReport(house, actorOf(request), async (ctx) =>
          viewAfter(ctx, await move(ctx, wanted)),
        ),
      );
    },
  );

  api.delete(
    '/bookings/:id',
    {
      schema: {
        summary: 'Cancel: an own booking, or as a steward any with a reason',
        tags,
        params: idParams,
        body: cancelBody,
        response: { 200: bookingReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const wanted = { bookingId: request.params.id, reason: request.body?.reason ?? null };
      return accept(
        await transact(house.database, async (tx) => {
          const ctx = { actor, now: house.now(), tx };
          return viewAfter(ctx, await cancel(ctx, wanted));
        }),
      );
    },
  );
};

type ListQuery = z.output<typeof bookingsQuery>;

/** One row more than the page holds, so that it is known whether another follows. */
async function listed(house: CheckingHouse, actor: Actor, query: ListQuery): Promise<readonly Booking[]> {
  const { database } = house;
  const after = query.cursor ?? null;
  if (query.mine === true) return bookingsOf(database, actor.memberId, after, query.limit + 1);
  const { from = house.now(), to = FAR_AHEAD, pressId = null } = query;
  return bookingsBetween(database, { from, to, pressId }, after, query.limit + 1);
}
