import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../../http/form.js';
import { id } from '../../http/id.js';
import { accept, Refused, refused } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { justDone, leadOn } from '../../http/told-once.js';
import { may } from '../../members/permissions.js';
import { Refusal } from '../../reasons.js';
import type { ErrorSummaryView } from '../../views.js';
import { DAMAGE_DONE, DAMAGE_LABELS, DAMAGE_WORDS } from '../../words/en/damage.js';
import { momentText } from '../../words/en/times.js';
import type { CheckingHouse } from '../checking-house.js';
import { closeDamage } from './close-damage.js';
import { closingForm } from './schemas.js';
import type { Damage } from './store.js';
import { visibleDamage } from './visible-damage.js';

interface Shown {
  readonly given?: { readonly [field: string]: string };
  readonly errors?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

/** One damage: where, what, its photograph, what was done. */
export async function showDamage(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return sendDamage(request, reply, house, {});
}

export async function postClosing(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const damageId = damageIdOf(request);
  accept(await visibleDamage(house.database, actor, damageId));
  const { given, value, errors } = readForm(closingForm, request.body);
  if (errors !== undefined) {
    const errorSummary = summaryOfErrors(errors, DAMAGE_LABELS);
    return sendDamage(request, reply.code(422), house, { given, errors, errorSummary });
  }
  const outcome = await transact(house.database, (tx) =>
    closeDamage({ actor, now: house.now(), tx }, { damageId, done: value.done }),
  );
  if (!(outcome instanceof Refusal)) {
    return leadOn(reply, house, actor, { what: 'closed', path: `/damage/${damageId}` });
  }
  if (outcome.status === 403 || outcome.status === 404) throw new Refused(outcome);
  const errorSummary = summaryOfRefusal(outcome);
  return sendDamage(request, reply.code(outcome.status), house, { given, errorSummary });
}

function damageIdOf(request: FastifyRequest): string {
  const parsed = id.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'damage' } });
  return parsed.data;
}

async function sendDamage(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  { given = {}, errors = {}, errorSummary }: Shown,
) {
  const actor = actorOf(request);
  const damage = accept(await visibleDamage(house.database, actor, damageIdOf(request)));
  const zone = await house.timeZone();
  const notice = DAMAGE_DONE[justDone(request, reply, house) ?? ''];
  const ofPlate = damage.plateId !== null;
  return sendSheet(
    request,
    reply,
    house,
    'damage/damage',
    {
      title: damage.bolsterName ?? damage.plateName ?? '',
      kicker: ofPlate ? 'Damage to a plate' : 'Damage to a bolster',
      current: ofPlate ? 'plates' : 'press',
      titleBlock: [{ label: 'Sheet', value: `Damage ${damage.id.slice(0, 8)}` }],
      ...(notice && { notices: [notice] }),
      ...(errorSummary && { errorSummary }),
    },
    {
      damage: { id: damage.id, what: damage.what, photographId: damage.photographId ?? '' },
      facts: factsOf(damage, zone),
      back: ofPlate
        ? { href: `/plates/${damage.plateId}/damage`, text: 'All damage to this plate' }
        : { href: `/bolsters/${damage.bolsterId}/damage`, text: 'All damage to this bolster' },
      ...(damage.closedAt !== null && {
        closing: {
          done: damage.done,
          by: `${damage.closedByName ?? ''}, ${momentText(damage.closedAt, zone)}`,
        },
      }),
      canClose: damage.closedAt === null && may(actor, 'damage-close'),
      done: given.done ?? '',
      errors,
    },
  );
}

function factsOf(damage: Damage, zone: string) {
  const { half, xMm, yMm, mounted, revision } = damage;
  return [
    { label: 'Where', value: DAMAGE_WORDS.where(half, xMm, yMm), strong: true },
    ...(revision === null
      ? [{ label: 'Bolster', value: mounted ? 'in the press' : 'beside the press' }]
      : [{ label: 'Revision', value: String(revision) }]),
    { label: 'Reported by', value: `${damage.reportedByName}, ${momentText(damage.reportedAt, zone)}` },
  ];
}
