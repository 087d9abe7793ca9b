import type { FastifyReply, FastifyRequest } from 'fastify';
import { actorOf } from '../../http/acting.js';
import { id as idSchema } from '../../http/id.js';
import { accept } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { linkAddress } from '../../members/link-address.js';
import { may } from '../../members/permissions.js';
import { qr } from '../../pictures/qr.js';
import { mountedBolster } from '../../press/store.js';
import { rulesAt } from '../../shop/store.js';
import { askText, LABEL_WORDS, plateSizeText, reachedText } from '../../words/en/library.js';
import { screwsText } from '../../words/en/screws.js';
import { dateText } from '../../words/en/times.js';
import type { CheckingHouse } from '../checking-house.js';
import { plateIdOf } from '../plate-page/send-plate.js';
import { visiblePlate } from '../visible-plate.js';
import { type LibraryPlate, libraryPlatesNamed } from './store.js';

/** Five sheets of paper. */
const LABELS_MAX = 40;

/** The label of one plate. */
export async function showLabel(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const plate = accept(await visiblePlate(house.database, actorOf(request), plateIdOf(request)));
  return sendLabels(request, reply, house, [plate.id], { href: `/plates/${plate.id}`, text: 'To the plate' });
}

/** The labels of plates that were ticked in the library; of what one may not see there is none. */
export async function showLabels(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const { plate } = request.query as { readonly plate?: unknown };
  const named = [plate].flat().filter((given): given is string => idSchema.safeParse(given).success);
  const plateIds = [...new Set(named)].slice(0, LABELS_MAX);
  return sendLabels(request, reply, house, plateIds, { href: '/library', text: 'To the library' });
}

async function sendLabels(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  plateIds: readonly string[],
  back: { readonly href: string; readonly text: string },
) {
  const { database } = house;
  const actor = actorOf(request);
  const seenBy = { memberId: actor.memberId, seesAll: may(actor, 'plate-see', {}) };
  const [rules, mounted, plates] = await Promise.all([
    rulesAt(database, house.now()),
    mountedBolster(database),
    libraryPlatesNamed(database, seenBy, plateIds),
  ]);
  const printed = dateText(house.now(), rules.timeZone);
  const bolster =
    mounted === undefined ? LABEL_WORDS.noBolster : LABEL_WORDS.on(mounted.name, mounted.version);
  return sendSheet(
    request,
    reply,
    house,
    'library/labels',
    {
      title: plates.length === 1 ? 'Label' : 'Labels',
      kicker: 'To print and cut out',
      current: 'library',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: 'Labels of plates' },
        { label: 'As of', value: printed },
      ],
    },
    {
      back,
      labels: plates.map((plate) => ({
        name: plate.name,
        code: LABEL_WORDS.code(plate.id, plate.latestRevision),
        place: rules.makerspaceName,
        facts: factsOf(plate, bolster),
        qr: qr(linkAddress(request, house, `/plates/${plate.id}`), LABEL_WORDS.qr(plate.name)),
        printed: LABEL_WORDS.printed(printed),
      })),
    },
  );
}

function factsOf(plate: LibraryPlate, bolster: string) {
  const { facts, polymers, reached } = plate;
  return [
    { label: LABEL_WORDS.place, value: plate.place ?? LABEL_WORDS.noPlace },
    { label: LABEL_WORDS.owner, value: askText(plate.ownerName, plate.ownerLeft) },
    { label: LABEL_WORDS.metal, value: plateSizeText(plate.widthMm, plate.heightMm, facts.thicknessMm) },
    { label: LABEL_WORDS.screws, value: screwsText(facts) },
    { label: LABEL_WORDS.resins, value: polymers.join(', ') || LABEL_WORDS.noResin },
    { label: LABEL_WORDS.cleared, value: `${reachedText(reached, [])}; ${bolster}` },
  ];
}
