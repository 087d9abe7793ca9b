import type { FastifyReply, FastifyRequest } from 'fastify';
import { actorOf } from '../http/acting.js';
import { cursor, cutPage } from '../http/cursor.js';
import { sendSheet } from '../http/sheet.js';
import { may } from '../members/permissions.js';
import { rulesAt } from '../shop/store.js';
import { momentText } from '../words/en/times.js';
import type { CheckingHouse } from './checking-house.js';
import { type PlateVerdict, platesOf } from './store.js';
import { verdictsNow } from './verdicts-now.js';
import { ownerSeen } from './visible-plate.js';

const LISTED_MAX = 50;

/** The actor's plates, newest first; for stewards everybody's. */
export async function showPlates(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const { database } = house;
  const rules = await rulesAt(database, house.now());
  const after = cursor.optional().safeParse((request.query as { after?: unknown }).after);
  const actor = actorOf(request);
  const owner = ownerSeen(actor);
  const rows = await platesOf(database, owner, after.data ?? null, LISTED_MAX + 1);
  const page = cutPage(rows, LISTED_MAX, ({ createdAt, id }) => ({ at: createdAt, id }));
  const ids = page.items.map(({ id }) => id);
  const verdicts = await verdictsNow(database, house.now(), ids);
  return sendSheet(
    request,
    reply,
    house,
    'plates/plates',
    {
      title: 'Plates',
      kicker: owner === null ? 'Everybody’s kept drawings' : 'Kept drawings of your own',
      current: 'plates',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: 'Plates' },
        { label: 'Shop rules', value: `version ${rules.version}` },
      ],
    },
    {
      plates: page.items.map((plate) => ({
        href: `/plates/${plate.id}`,
        name: plate.name,
        revision: plate.latestRevision,
        ...verdictShown(verdicts.get(plate.id)),
        kept: momentText(plate.createdAt, rules.timeZone),
        ...(owner === null && { owner: plate.ownerName }),
        ...(may(actor, 'plate-run', plate) &&
          canBook(verdicts.get(plate.id)) && { bookHref: `/bookings/new?plateId=${plate.id}` }),
      })),
      everybodys: owner === null,
      ...(page.next !== null && { older: `/plates?after=${page.next}` }),
    },
  );
}

function verdictShown(found: PlateVerdict | undefined) {
  return found === undefined
    ? {}
    : { verdict: found.verdict, verdictText: `${found.verdict} in ${found.polymer}` };
}

/** A stop is shown; nothing is said of what was not checked. */
function canBook(found: PlateVerdict | undefined): boolean {
  return found?.verdict !== 'stop';
}
