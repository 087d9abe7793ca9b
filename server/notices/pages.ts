import type { FastifyPluginAsync } from 'fastify';
import { z } from 'zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cursor, cutPage } from '../http/cursor.js';
import type { House } from '../http/house.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { accept, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { markRead, markReadThrough } from './mark-read.js';
import { noticesOf } from './store.js';
import { noticeLine } from './views.js';

const SHOWN_MAX = 50;

const readForm = z.object({ go: z.string().optional() }).catch({});
const readAllForm = z.object({ through: instant });

/** What one has been told: what is still to be read first. */
export const noticePages: FastifyPluginAsync<House> = async (pages, house) => {
  const { database, now, timeZone } = house;

  pages.get('/notices', async (request, reply) => {
    const { memberId } = actorOf(request);
    const after = cursor.optional().safeParse((request.query as { after?: unknown }).after).data ?? null;
    const [rows, unread, zone] = await Promise.all([
      noticesOf(database, memberId, { unread: false, after, limit: SHOWN_MAX + 1 }),
      noticesOf(database, memberId, { unread: true, after: null, limit: SHOWN_MAX }),
      timeZone(),
    ]);
    const page = cutPage(rows, SHOWN_MAX, ({ createdAt, id }) => ({ at: createdAt, id }));
    const read = page.items.filter(({ readAt }) => readAt !== null);
    const [latest] = unread;
    return sendSheet(
      request,
      reply,
      house,
      'notices/notices',
      { title: 'Notices', kicker: 'What you have been told', current: 'notices' },
      {
        unread: after === null ? unread.map((notice) => noticeLine(notice, zone)) : [],
        read: read.map((notice) => noticeLine(notice, zone)),
        ...(latest !== undefined && { through: latest.createdAt.toISOString() }),
        first: after === null,
        ...(page.next !== null && { older: `/notices?after=${page.next}` }),
      },
    );
  });

  pages.post('/notices/read', async (request, reply) => {
    const form = readAllForm.safeParse(request.body);
    if (!form.success) throw refused('field-invalid', { field: 'through' });
    const actor = actorOf(request);
    await transact(database, (tx) => markReadThrough({ actor, now: now(), tx }, form.data.through));
    return reply.redirect('/notices', 303);
  });

  pages.post('/notices/:id/read', async (request, reply) => {
    const parsed = id.safeParse((request.params as { id?: unknown }).id);
    if (!parsed.success) throw refused('not-found', { figures: { what: 'notice' } });
    const actor = actorOf(request);
    const href = accept(await transact(database, (tx) => markRead({ actor, now: now(), tx }, parsed.data)));
    return reply.redirect(readForm.parse(request.body).go === 'yes' ? href : '/notices', 303);
  });
};
