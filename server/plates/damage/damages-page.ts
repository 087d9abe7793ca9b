import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import { memberAsking } from '../../http/asker.js';
import { cursor, cutPage } from '../../http/cursor.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../../http/form.js';
import { id } from '../../http/id.js';
import { accept, Refused, refused } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { leadOn } from '../../http/told-once.js';
import type { PlaceMark } from '../../pictures/place-marks.js';
import { plateWithMarks } from '../../pictures/plate-sketch.js';
import type { SafeHtml } from '../../pictures/safe-html.js';
import { drawBolster } from '../../press/bolster-sheet.js';
import { bolsterById } from '../../press/store.js';
import { Refusal } from '../../reasons.js';
import type { ErrorSummaryView, Section } from '../../views.js';
import { DAMAGE_LABELS, DAMAGE_WORDS, HALF_WORDS } from '../../words/en/damage.js';
import { momentText } from '../../words/en/times.js';
import type { CheckingHouse } from '../checking-house.js';
import { sketchMissing } from '../library/sketch-missing.js';
import { sketchAt } from '../library/sketch-store.js';
import { photographOfFormIfAny } from '../photographs/photograph-of-form.js';
import { plateIdOf } from '../plate-page/send-plate.js';
import { visiblePlate } from '../visible-plate.js';
import { type DamageTold, reportDamage } from './report-damage.js';
import { damageForm } from './schemas.js';
import { type Damage, damageOf, HALVES } from './store.js';

const LISTED_MAX = 50;

type Fields = { readonly [field: string]: string };

interface Shown {
  readonly given?: Fields;
  readonly errors?: Fields;
  readonly errorSummary?: ErrorSummaryView;
}

/** What damage is reported of and how it is drawn. */
interface Subject {
  readonly of: { readonly bolsterId: string } | { readonly plateId: string };
  readonly name: string;
  readonly path: string;
  readonly kicker: string;
  readonly current: Section;
  /** With halves to choose from. */
  readonly hasHalves: boolean;
  /** Undefined where it cannot be drawn. */
  readonly draw: ((marks: readonly PlaceMark[]) => SafeHtml) | undefined;
}

export async function showBolsterDamage(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return sendDamages(request, reply, house, await bolsterSubject(request, house), {});
}

export async function showPlateDamage(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return sendDamages(request, reply, house, await plateSubject(request, house), {});
}

export async function postBolsterDamage(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return postDamage(request, reply, house, await bolsterSubject(request, house));
}

export async function postPlateDamage(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return postDamage(request, reply, house, await plateSubject(request, house));
}

async function bolsterSubject(request: FastifyRequest, { database }: CheckingHouse): Promise<Subject> {
  const parsed = id.safeParse((request.params as { readonly id?: unknown }).id);
  const bolster = parsed.success ? await bolsterById(database, parsed.data) : undefined;
  if (bolster === undefined) throw refused('not-found', { figures: { what: 'bolster' } });
  return {
    of: { bolsterId: bolster.id },
    name: bolster.name,
    path: `/bolsters/${bolster.id}`,
    kicker: 'Damage to a bolster',
    current: 'press',
    hasHalves: true,
    draw: (marks) => drawBolster(bolster.facts, [], marks),
  };
}

async function plateSubject(request: FastifyRequest, house: CheckingHouse): Promise<Subject> {
  const actor = actorOf(request);
  const plate = accept(await visiblePlate(house.database, actor, plateIdOf(request)));
  await sketchMissing(house, memberAsking(actor), plate.id);
  const sketch = await sketchAt(house.database, plate.id, plate.latestRevision);
  const label = `The plate ${plate.name} as drawn, its feed at the origin`;
  return {
    of: { plateId: plate.id },
    name: plate.name,
    path: `/plates/${plate.id}`,
    kicker: 'Damage to a plate',
    current: 'plates',
    hasHalves: false,
    draw: sketch && ((marks) => plateWithMarks({ sketch, label, marks })),
  };
}

async function postDamage(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  subject: Subject,
) {
  const actor = actorOf(request);
  const { given, value, errors } = readForm(damageForm, request.body);
  if (errors !== undefined) {
    const errorSummary = summaryOfErrors(errors, DAMAGE_LABELS);
    return sendDamages(request, reply.code(422), house, subject, { given, errors, errorSummary });
  }
  const { half, ...told } = value;
  const about = 'bolsterId' in subject.of ? { ...subject.of, half } : subject.of;
  const outcome = await reportOf(request, house, { ...told, about });
  if (!(outcome instanceof Refusal)) {
    return leadOn(reply, house, actor, { what: 'reported', path: `/damage/${outcome}` });
  }
  if (outcome.status === 403 || outcome.status === 404) throw new Refused(outcome);
  const errorSummary = summaryOfRefusal(outcome);
  return sendDamages(request, reply.code(outcome.status), house, subject, { given, errorSummary });
}

async function reportOf(
  request: FastifyRequest,
  { database, now }: CheckingHouse,
  told: Omit<DamageTold, 'photograph'>,
): Promise<string | Refusal> {
  const photograph = await photographOfFormIfAny(request);
  if (photograph instanceof Refusal) return photograph;
  const actor = actorOf(request);
  return transact(database, (tx) => reportDamage({ actor, now: now(), tx }, { ...told, photograph }));
}

async function sendDamages(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  subject: Subject,
  { given = {}, errors = {}, errorSummary }: Shown,
) {
  const { name, path, kicker, current, hasHalves, draw } = subject;
  const zone = await house.timeZone();
  const after = cursor.optional().safeParse((request.query as { readonly after?: unknown }).after);
  const rows = await damageOf(house.database, subject.of, after.data ?? null, LISTED_MAX + 1);
  const page = cutPage(rows, LISTED_MAX, (one) => ({ at: one.reportedAt, id: one.id }));
  const open = page.items.filter(({ closedAt }) => closedAt === null);
  const numberOf = new Map(open.map((one, i) => [one.id, String(i + 1)]));
  const marks = open.map((one) => ({
    words: numberOf.get(one.id) ?? '',
    at: { x: one.xMm, y: one.yMm },
  }));
  return sendSheet(
    request,
    reply,
    house,
    'damage/damages',
    {
      title: name,
      kicker,
      current,
      ...(errorSummary && { errorSummary }),
      titleBlock: [
        { label: 'Sheet', value: `Damage, ${name}` },
        { label: 'Counted from', value: hasHalves ? 'the sprue axis, mm' : 'the feed, mm' },
      ],
    },
    {
      path,
      ...(draw ? { picture: draw(marks) } : { cannotPick: DAMAGE_WORDS.cannotPick }),
      rows: page.items.map((one) => ({ ...damageRow(one, zone), number: numberOf.get(one.id) ?? '' })),
      ...(page.next !== null && { older: `${path}/damage?after=${page.next}` }),
      form: { x: given.xMm ?? '', y: given.yMm ?? '', what: given.what ?? '' },
      ...(hasHalves && { halves: halvesOf(given.half ?? 'moving') }),
      errors,
    },
  );
}

function damageRow(one: Damage, zone: string) {
  return {
    href: `/damage/${one.id}`,
    what: one.what,
    where: DAMAGE_WORDS.where(one.half, one.xMm, one.yMm),
    by: `${one.reportedByName}, ${momentText(one.reportedAt, zone)}`,
    isOpen: one.closedAt === null,
    done: one.done ?? '',
  };
}

function halvesOf(picked: string) {
  return HALVES.map((half) => ({
    id: half === HALVES[0] ? 'half' : `half-${half}`,
    value: half,
    ...HALF_WORDS[half],
    checked: half === picked,
  }));
}
