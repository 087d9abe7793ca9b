import type { FastifyPluginAsync } from 'fastify';
import { FLOOR_SEEN } from '../audit/seen.js';
import { trailOf } from '../audit/store.js';
import { trailLines } from '../audit/views.js';
import { actorOf } from '../http/acting.js';
import { Refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { rulesAt } from '../shop/store.js';
import { GROUP_WORDS, sinceText, untilText } from '../words/en/desk.js';
import { momentText } from '../words/en/times.js';
import { type DeskHouse, noDeskFor } from './desk-house.js';
import { floorFacts } from './floor.js';
import { allWaiting, DESK_GROUPS, type Waiting } from './waiting.js';

const LATELY_MAX = 6;

/** The steward's desk: what waits, what is on the floor, what happened lately. */
export const deskPages: FastifyPluginAsync<DeskHouse> = async (pages, house) => {
  pages.get('/desk', async (request, reply) => {
    const { database: db, queues } = house;
    const now = house.now();
    const actor = actorOf(request);
    const forbidden = noDeskFor(actor);
    if (forbidden !== undefined) throw new Refused(forbidden);
    const rules = await rulesAt(db, now);
    const { timeZone } = rules;
    const latest = {
      seen: FLOOR_SEEN,
      actorId: null,
      subject: null,
      before: null,
      limit: LATELY_MAX,
    };
    const [lines, floor, lately] = await Promise.all([
      allWaiting(queues, { db, now, actor, timeZone }),
      floorFacts(db, rules, now),
      trailOf(db, latest),
    ]);
    return sendSheet(
      request,
      reply,
      house,
      'desk/desk',
      {
        title: `What waits for you, ${actor.displayName}`,
        kicker: momentText(now, timeZone),
        current: 'desk',
        place: rules.makerspaceName,
        titleBlock: [
          { label: 'Sheet', value: 'Steward’s desk' },
          { label: 'Steward', value: actor.displayName },
          { label: 'Drawn', value: momentText(now, timeZone) },
          { label: 'Shop rules', value: `version ${rules.version}`, href: '/shop-rules' },
        ],
      },
      { groups: groupsOf(lines, now, timeZone), floor, lately: trailLines(lately, timeZone, now) },
    );
  });
};

/** The lines in their groups, numbered through as on a parts list; the first is the one to begin with. */
function groupsOf(lines: readonly Waiting[], now: Date, timeZone: string) {
  const rows = lines.map(({ since, until, ...line }, place) => ({
    ...line,
    number: place + 1,
    primary: place === 0,
    when:
      until !== undefined
        ? untilText(until, now, timeZone)
        : since !== undefined
          ? sinceText(since, now, timeZone)
          : '',
  }));
  return DESK_GROUPS.map((group) => ({
    id: group,
    name: GROUP_WORDS[group],
    rows: rows.filter((row) => row.group === group),
  })).filter(({ rows: waiting }) => waiting.length > 0);
}
