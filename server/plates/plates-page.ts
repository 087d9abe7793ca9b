import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Actor } from '../context.js';
import { actorOf } from '../http/acting.js';
import { cursor, cutPage } from '../http/cursor.js';
import { sendSheet } from '../http/sheet.js';
import { justDone } from '../http/told-once.js';
import { may } from '../members/permissions.js';
import { rulesAt } from '../shop/store.js';
import { PLATES_DONE, PLATES_KICKERS } from '../words/en/plates.js';
import { momentText } from '../words/en/times.js';
import type { CheckingHouse } from './checking-house.js';
import { type ListedPlate, type PlatesOf, type PlateVerdict, visiblePlates } from './store.js';
import { verdictsNow } from './verdicts-now.js';
import { platesSeen } from './visible-plate.js';

const LISTED_MAX = 50;

/** The actor's plates, newest first, for stewards everybody's; or what others share. */
export async function showPlates(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const { database } = house;
  const rules = await rulesAt(database, house.now());
  const query = request.query as { readonly [field: string]: unknown };
  const after = cursor.optional().safeParse(query.after);
  const actor = actorOf(request);
  const shared = query.of === 'shared';
  const of: PlatesOf = shared ? { sharedWith: actor.memberId } : platesSeen(actor);
  const rows = await visiblePlates(database, of, after.data ?? null, LISTED_MAX + 1);
  const page = cutPage(rows, LISTED_MAX, ({ createdAt, id }) => ({ at: createdAt, id }));
  const ids = page.items.map(({ id }) => id);
  const verdicts = await verdictsNow(database, house.now(), ids);
  const own = 'ownedBy' in of;
  const notice = PLATES_DONE[justDone(request, reply, house) ?? ''];
  return sendSheet(
    request,
    reply,
    house,
    'plates/plates',
    {
      title: 'Plates',
      kicker: PLATES_KICKERS[shared ? 'shared' : own ? 'own' : 'everybodys'],
      current: 'plates',
      place: rules.makerspaceName,
      ...(notice && { notices: [notice] }),
      titleBlock: [
        { label: 'Sheet', value: 'Plates' },
        { label: 'Shop rules', value: `version ${rules.version}` },
      ],
    },
    {
      plates: page.items.map((plate) => ({
        ...plateRow(actor, plate, verdicts.get(plate.id)),
        kept: momentText(plate.createdAt, rules.timeZone),
        ...(!own && { owner: plate.ownerName }),
      })),
      others: !own,
      shared,
      ...(page.next !== null && { older: `/plates?after=${page.next}${shared ? '&of=shared' : ''}` }),
    },
  );
}

function plateRow(actor: Actor, plate: ListedPlate, found: PlateVerdict | undefined) {
  const { id, name, place, retiredAt, latestRevision } = plate;
  const retired = retiredAt !== null;
  const bookable = may(actor, 'plate-run', plate) && !retired && canBook(found);
  return {
    href: `/plates/${id}`,
    name,
    revision: latestRevision,
    ...(place !== null && { place }),
    ...(retired && { retired }),
    ...verdictShown(found),
    ...(bookable && { bookHref: `/bookings/new?plateId=${id}` }),
  };
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
