import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cutPage } from '../http/cursor.js';
import type { House } from '../http/house.js';
import { idParams } from '../http/id.js';
import { accept } from '../http/refused.js';
import { Refusal } from '../reasons.js';
import { markRead, markReadThrough } from './mark-read.js';
import { noticeReply, noticesQuery, noticesReply, readThroughBody, readThroughReply } from './schemas.js';
import { noticeById, noticesOf } from './store.js';
import { noticeView } from './views.js';

const tags = ['notices'];

/** What a member has been told. */
export const noticeRoutes: FastifyPluginAsyncZod<House> = async (api, house) => {
  const { database, now, timeZone } = house;

  api.get(
    '/notices',
    {
      schema: {
        summary: 'Own notices, latest first',
        tags,
        querystring: noticesQuery,
        response: { 200: noticesReply },
      },
    },
    async (request) => {
      const { unread = false, cursor: after = null, limit } = request.query;
      const { memberId } = actorOf(request);
      const rows = await noticesOf(database, memberId, { unread, after, limit: limit + 1 });
      const page = cutPage(rows, limit, ({ createdAt, id }) => ({ at: createdAt, id }));
      const zone = await timeZone();
      return { ...page, items: page.items.map((notice) => noticeView(notice, zone)) };
    },
  );

  api.post(
    '/notices/:id/read',
    {
      schema: { summary: 'Mark one as read', tags, params: idParams, response: { 200: noticeReply } },
    },
    async (request) => {
      const { id } = request.params;
      const zone = await timeZone();
      return accept(
        await transact(database, async (tx) => {
          const outcome = await markRead({ actor: actorOf(request), now: now(), tx }, id);
          if (outcome instanceof Refusal) return outcome;
          const notice = await noticeById(tx, id);
          if (notice === undefined) throw new Error(`Notice ${id} is not there after it was read.`);
          return noticeView(notice, zone);
        }),
      );
    },
  );

  api.post(
    '/notices/read',
    {
      schema: {
        summary: 'Mark as read all up to an instant',
        tags,
        body: readThroughBody,
        response: { 200: readThroughReply },
      },
    },
    async (request) => {
      const { through } = request.body;
      const actor = actorOf(request);
      const read = await transact(database, (tx) => markReadThrough({ actor, now: now(), tx }, through));
      return { read };
    },
  );
};
