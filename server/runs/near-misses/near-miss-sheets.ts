import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import { cursor, cutPage } from '../../http/cursor.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../../http/form.js';
import type { House } from '../../http/house.js';
import { id } from '../../http/id.js';
import { accept, refused } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { justDone, leadOn } from '../../http/told-once.js';
import { may } from '../../members/permissions.js';
import { Refusal } from '../../reasons.js';
import { dayOf } from '../../shop/opening-hours.js';
import type { ErrorSummaryView } from '../../views.js';
import {
  HURT_WORDS,
  NEAR_MISS_DONE,
  NEAR_MISS_ERRORS,
  NEAR_MISS_LABELS,
  NOT_ANSWERED,
} from '../../words/en/near-misses.js';
import { clockText, momentText } from '../../words/en/times.js';
import { answerNearMiss } from './answer-near-miss.js';
import { answerForm, instantOfForm, nearMissForm } from './near-miss-form.js';
import { reportNearMiss } from './report-near-miss.js';
import { HURT, type NearMiss, nearMissesOf } from './store.js';
import { visibleNearMiss } from './visible-near-miss.js';

const LISTED_MAX = 100;

interface Shown {
  readonly given?: { readonly [field: string]: string };
  readonly errors?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

function wrong(given: NonNullable<Shown['given']>, errors: NonNullable<Shown['errors']>): Shown {
  return { given, errors, errorSummary: summaryOfErrors(errors, NEAR_MISS_LABELS) };
}

/** The short form; what helps people comes before it. */
export async function showNewNearMiss(request: FastifyRequest, reply: FastifyReply, house: House) {
  return sendNew(request, reply, house, {});
}

export async function postNearMiss(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  const { given, value, errors } = readForm(nearMissForm, request.body);
  if (errors !== undefined) return sendNew(request, reply.code(422), house, wrong(given, errors));
  const happenedAt = instantOfForm(value, await house.timeZone());
  if (happenedAt === undefined || happenedAt > house.now()) {
    const unlikely = { time: happenedAt === undefined ? NEAR_MISS_ERRORS.time : NEAR_MISS_ERRORS.future };
    return sendNew(request, reply.code(422), house, wrong(given, unlikely));
  }
  const { place, what, hurt } = value;
  const nearMissId = accept(
    await transact(house.database, (tx) =>
      reportNearMiss({ actor, now: house.now(), tx }, { happenedAt, place, what, hurt }),
    ),
  );
  return leadOn(reply, house, actor, { what: 'reported', path: `/near-misses/${nearMissId}` });
}

async function sendNew(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const zone = await house.timeZone();
  const { given = {}, errors = {}, errorSummary } = shown;
  const now = house.now();
  return sendSheet(
    request,
    reply,
    house,
    'runs/near-miss-new',
    {
      title: 'Near miss',
      kicker: 'Tell the stewards',
      titleBlock: [{ label: 'Sheet', value: 'Near miss' }],
      ...(errorSummary && { errorSummary }),
    },
    {
      form: {
        place: given.place ?? '',
        what: given.what ?? '',
        date: given.date ?? dayOf(now, zone).toString(),
        time: given.time ?? clockText(now, zone),
        hurt: HURT.map((hurt) => ({
          id: hurt === HURT[0] ? 'hurt' : `hurt-${hurt}`,
          value: hurt,
          ...HURT_WORDS[hurt],
          checked: given.hurt === hurt,
        })),
      },
      errors,
      seesAll: may(actorOf(request), 'near-miss-see'),
    },
  );
}

/** Those one has told of; a steward sees all. */
export async function showNearMisses(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  const zone = await house.timeZone();
  const whose = may(actor, 'near-miss-see') ? null : actor.memberId;
  const after = cursor.optional().safeParse((request.query as { after?: unknown }).after);
  const rows = await nearMissesOf(house.database, whose, after.data ?? null, LISTED_MAX + 1);
  const page = cutPage(rows, LISTED_MAX, ({ reportedAt, id: one }) => ({ at: reportedAt, id: one }));
  return sendSheet(
    request,
    reply,
    house,
    'runs/near-misses',
    {
      title: whose === null ? 'Near misses' : 'Near misses you told of',
      kicker: 'What nearly went wrong',
      titleBlock: [{ label: 'Sheet', value: 'Near misses' }],
    },
    {
      rows: page.items.map((nearMiss) => ({
        href: `/near-misses/${nearMiss.id}`,
        when: momentText(nearMiss.happenedAt, zone),
        place: nearMiss.place,
        hurt: HURT_WORDS[nearMiss.hurt].text,
        isHurt: nearMiss.hurt !== 'nobody',
        who: nearMiss.reportedByName,
        answered: nearMiss.answeredAt === null ? NOT_ANSWERED : momentText(nearMiss.answeredAt, zone),
      })),
      ...(page.next !== null && { older: `/near-misses?after=${page.next}` }),
    },
  );
}

export async function showNearMiss(request: FastifyRequest, reply: FastifyReply, house: House) {
  return sendNearMiss(request, reply, house, {});
}

export async function postAnswer(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  const nearMissId = nearMissIdOf(request);
  accept(await visibleNearMiss(house.database, actor, nearMissId));
  const { given, value, errors } = readForm(answerForm, request.body);
  if (errors !== undefined) return sendNearMiss(request, reply.code(422), house, wrong(given, errors));
  const outcome = await transact(house.database, (tx) =>
    answerNearMiss({ actor, now: house.now(), tx }, { nearMissId, done: value.done }),
  );
  if (!(outcome instanceof Refusal)) {
    return leadOn(reply, house, actor, { what: 'answered', path: `/near-misses/${nearMissId}` });
  }
  if (outcome.status === 403 || outcome.status === 404) accept(outcome);
  const errorSummary = summaryOfRefusal(outcome);
  return sendNearMiss(request, reply.code(outcome.status), house, { given, errorSummary });
}

function nearMissIdOf(request: FastifyRequest): string {
  const parsed = id.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'near miss' } });
  return parsed.data;
}

async function sendNearMiss(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const actor = actorOf(request);
  const nearMiss = accept(await visibleNearMiss(house.database, actor, nearMissIdOf(request)));
  const zone = await house.timeZone();
  const { given = {}, errors = {}, errorSummary } = shown;
  const done = justDone(request, reply, house);
  const notice = Object.entries(NEAR_MISS_DONE).find(([what]) => what === done)?.[1];
  return sendSheet(
    request,
    reply,
    house,
    'runs/near-miss',
    {
      title: nearMiss.place,
      kicker: nearMiss.hurt === 'nobody' ? 'Near miss' : 'Somebody was hurt',
      titleBlock: [{ label: 'Sheet', value: `Near miss ${nearMiss.id.slice(0, 8)}` }],
      ...(notice && { notices: [notice] }),
      ...(errorSummary && { errorSummary }),
    },
    {
      nearMiss: { id: nearMiss.id, what: nearMiss.what },
      facts: factsOf(nearMiss, zone),
      ...(nearMiss.answeredAt !== null && {
        answer: {
          done: nearMiss.done,
          by: `${nearMiss.answeredByName ?? ''}, ${momentText(nearMiss.answeredAt, zone)}`,
        },
      }),
      canAnswer:
        nearMiss.answeredAt === null && may(actor, 'near-miss-answer', { ownerId: nearMiss.reportedBy }),
      done: given.done ?? '',
      errors,
    },
  );
}

function factsOf(nearMiss: NearMiss, zone: string) {
  return [
    { label: 'Where', value: nearMiss.place, strong: true },
    { label: 'When', value: momentText(nearMiss.happenedAt, zone) },
    { label: 'Hurt', value: HURT_WORDS[nearMiss.hurt].text, strong: nearMiss.hurt !== 'nobody' },
    { label: 'Told by', value: `${nearMiss.reportedByName}, ${momentText(nearMiss.reportedAt, zone)}` },
  ];
}
