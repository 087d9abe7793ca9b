import type { FastifyReply, FastifyRequest } from 'fastify';
import { POLYMERS } from '../../engineering/polymers/polymers.js';
import { actorOf } from '../../http/acting.js';
import { memberAsking } from '../../http/asker.js';
import { cursor, cutPage } from '../../http/cursor.js';
import { readForm, summaryOfErrors } from '../../http/form.js';
import { sendSheet } from '../../http/sheet.js';
import { may } from '../../members/permissions.js';
import { plateSketch } from '../../pictures/plate-sketch.js';
import { mountedBolster } from '../../press/store.js';
import { rulesAt } from '../../shop/store.js';
import {
  askText,
  LIBRARY_CHOICES,
  LIBRARY_LABELS,
  NOT_DRAWN,
  partsSizeText,
  plateSizeText,
  reachedText,
  runText,
} from '../../words/en/library.js';
import { CONDITION_WORDS, conditionText } from '../../words/en/plates.js';
import type { CheckingHouse } from '../checking-house.js';
import { libraryForm } from './filter.js';
import { sketchMissing } from './sketch-missing.js';
import { type LibraryPlate, libraryPlates } from './store.js';

const LISTED_MAX = 24;

/** Plates one may see, each with a small drawing, by what is asked in a form that works by its address. */
export async function showLibrary(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const { database } = house;
  const actor = actorOf(request);
  const { given, value, errors } = readForm(libraryForm, request.query);
  const [rules, mounted] = await Promise.all([rulesAt(database, house.now()), mountedBolster(database)]);
  await sketchMissing(house, memberAsking(actor));
  const after = cursor.optional().safeParse(given.after);
  const seenBy = { memberId: actor.memberId, seesAll: may(actor, 'plate-see', {}) };
  const rows =
    value === undefined
      ? []
      : await libraryPlates(database, seenBy, value, after.data ?? null, LISTED_MAX + 1);
  const page = cutPage(rows, LISTED_MAX, ({ createdAt, id }) => ({ at: createdAt, id }));
  const asked = Object.entries(given).filter(([name, text]) => name in LIBRARY_LABELS && text !== '');
  const asks = asked.some(([name, text]) => !DEFAULTS.has(`${name}=${text}`));
  return sendSheet(
    request,
    errors === undefined ? reply : reply.code(422),
    house,
    'library/library',
    {
      title: 'Library',
      kicker: 'Plates that are yours, or shared',
      current: 'library',
      place: rules.makerspaceName,
      ...(errors && { errorSummary: summaryOfErrors(errors, LIBRARY_LABELS) }),
      titleBlock: [
        { label: 'Sheet', value: 'Library' },
        {
          label: 'Cleared on',
          value:
            mounted === undefined ? 'no bolster is mounted' : `${mounted.name}, version ${mounted.version}`,
        },
      ],
    },
    {
      cells: cellsOf(given, errors ?? {}),
      asks,
      isWrong: errors !== undefined,
      plates: page.items.map((plate) => libraryRow(plate, actor.memberId)),
      ...(page.next !== null && {
        older: `/library?${new URLSearchParams([...asked, ['after', page.next]])}`,
      }),
    },
  );
}

/** What a form that asks nothing sends all the same. */
const DEFAULTS = new Set(['size=part', 'retired=no']);

/** A plate as a row of the list. */
function libraryRow(plate: LibraryPlate, memberId: string) {
  const { id, name, latestRevision, sketch, facts, reached, polymers } = plate;
  return {
    id,
    href: `/plates/${id}`,
    name,
    revision: latestRevision,
    ...(sketch === null ? { noPicture: NOT_DRAWN } : { picture: plateSketch({ sketch, label: null }) }),
    size: plateSizeText(plate.widthMm, plate.heightMm, facts.thicknessMm),
    parts: partsSizeText(plate.partMm),
    note: plate.note ?? '',
    cleared: reachedText(reached, polymers),
    clearedVerdict: reached === 'production' ? 'clear' : 'unknown',
    condition: conditionText(plate.condition, plate.conditionNote),
    place: plate.place ?? '',
    owner: askText(plate.ownerName, plate.ownerLeft),
    run: runText(plate.ownerId === memberId, plate.sharing),
    retired: plate.retiredAt !== null,
  };
}

type Given = { readonly [field: string]: string };

function cellsOf(given: Given, errors: Given) {
  const cell = (name: keyof typeof LIBRARY_LABELS, more: object) => ({
    id: name,
    name,
    label: LIBRARY_LABELS[name],
    value: given[name] ?? '',
    ...(errors[name] !== undefined && { error: errors[name] }),
    ...more,
  });
  const options = (name: string, all: readonly (readonly [string, string])[]) => ({
    options: all.map(([value, text]) => ({ value, text, selected: (given[name] ?? '') === value })),
  });
  return [
    cell('words', { hint: 'name, notes, file', maxLength: 80, size: 'wide' }),
    cell(
      'resin',
      options('resin', [['', 'any'], ...POLYMERS.map(({ symbol }) => [symbol, symbol] as const)]),
    ),
    cell('cleared', options('cleared', LIBRARY_CHOICES.cleared)),
    cell('whose', options('whose', LIBRARY_CHOICES.whose)),
    cell('condition', options('condition', [['', 'any'], ...Object.entries(CONDITION_WORDS)])),
    cell('size', options('size', LIBRARY_CHOICES.size)),
    cell('minMm', { unit: 'mm', inputMode: 'decimal', size: 'narrow' }),
    cell('maxMm', { unit: 'mm', inputMode: 'decimal', size: 'narrow' }),
    cell('place', { hint: 'rack or shelf', maxLength: 60 }),
    cell('retired', options('retired', LIBRARY_CHOICES.retired)),
  ];
}
