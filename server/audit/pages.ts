import type { FastifyPluginAsync } from 'fastify';
import { z } from 'zod';
import type { Actor } from '../context.js';
import { actorOf } from '../http/acting.js';
import type { House } from '../http/house.js';
import { id } from '../http/id.js';
import { sendSheet } from '../http/sheet.js';
import { text } from '../http/text.js';
import { may } from '../members/permissions.js';
import { TRAIL_REACH } from '../words/en/audit.js';
import { momentText } from '../words/en/times.js';
import { trailCursor } from './schemas.js';
import { trailSeenBy } from './seen.js';
import { trailOf } from './store.js';
import { cutTrail, trailDays } from './views.js';

const SHOWN_MAX = 100;
const NOBODY = '00000000-0000-0000-0000-000000000000';

/** What cannot be read is left out, but a person who cannot be: that is nobody, who did nothing. */
const trailForm = z.object({
  after: trailCursor.nullable().catch(null).default(null),
  person: id.catch(NOBODY).optional(),
  kind: text(60).optional().catch(undefined),
  thing: text(100).optional().catch(undefined),
});

/** The trail as a page: by time, by person, by thing. */
export const auditPages: FastifyPluginAsync<House> = async (pages, house) => {
  pages.get('/trail', async (request, reply) => {
    const actor = actorOf(request);
    const { after, person = null, kind, thing } = trailForm.parse(request.query);
    const subject = kind === undefined || thing === undefined ? null : { kind, id: thing };
    const [entries, timeZone] = await Promise.all([
      trailOf(house.database, {
        seen: trailSeenBy(actor),
        actorId: person,
        subject,
        before: after,
        limit: SHOWN_MAX + 1,
      }),
      house.timeZone(),
    ]);
    const page = cutTrail(entries, SHOWN_MAX);
    const asked = new URLSearchParams({
      ...(person && { person }),
      ...(subject && { kind: subject.kind, thing: subject.id }),
    });
    const narrowed = person !== null || subject !== null;
    return sendSheet(
      request,
      reply,
      house,
      'audit/trail',
      {
        title: 'The trail',
        kicker: TRAIL_REACH[reachOf(actor)],
        titleBlock: [
          { label: 'Sheet', value: 'The trail' },
          { label: 'Drawn', value: momentText(house.now(), timeZone) },
        ],
      },
      {
        days: trailDays(page.items, timeZone),
        ...(narrowed && { all: '/trail' }),
        ...(page.next !== null && { older: `/trail?${withAfter(asked, page.next)}` }),
      },
    );
  });
};

function reachOf(actor: Actor): keyof typeof TRAIL_REACH {
  if (may(actor, 'audit-see')) return 'all';
  return may(actor, 'audit-see', { floor: true }) ? 'floor' : 'own';
}

function withAfter(asked: URLSearchParams, after: string): string {
  return new URLSearchParams([...asked, ['after', after]]).toString();
}
