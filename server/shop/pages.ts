import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import type { Actor } from '../context.js';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { justDone, leadOn } from '../http/told-once.js';
import { may, refusalUnless } from '../members/permissions.js';
import { type Reason, Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { SEE_BOOKING } from '../words/en/bookings.js';
import { CARRY, EARLIER_KEPT, JUST_DONE, RULE_WORDS } from '../words/en/shop.js';
import { momentText } from '../words/en/times.js';
import { close } from './close.js';
import { closureForm, closureOfForm } from './closure-form.js';
import { closuresComing } from './closure-store.js';
import { liftClosure } from './lift-closure.js';
import { type LookedAhead, lookAhead } from './look-ahead.js';
import { fieldsOfRules, rulesForm, rulesOfForm } from './rules-form.js';
import { setRules } from './set-rules.js';
import type { ShopHouse } from './shop-house.js';
import { closureRows, comingVersions, foreseenView, hourFacts, ruleCells, ruleFacts } from './shop-sheet.js';
import { rulesAt, rulesInForceAndComing } from './store.js';

const CLOSURES_SHOWN_MAX = 50;

interface Shown {
  readonly given?: FieldErrors;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
}

const LABELS: FieldErrors = Object.fromEntries(
  Object.entries(RULE_WORDS).map(([name, { label }]) => [name, label]),
);

/** The shop rules and closures, for everybody to read and for admins to change. */
export const shopPages: FastifyPluginAsync<ShopHouse> = async (pages, house) => {
  const { database, now } = house;

  pages.get('/shop-rules', (request, reply) => showRules(request, reply, house, {}));

  pages.get('/shop-rules/change', async (request, reply) => {
    onlyEditors(request);
    const rules = await rulesAt(database, now());
    return showForm(request, reply, house, { given: fieldsOfRules(rules) });
  });

  pages.post('/shop-rules/preview', async (request, reply) => {
    onlyEditors(request);
    const { given, value, errors } = readForm(rulesForm, request.body);
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors, LABELS);
      return showForm(request, reply.code(422), house, { given, errors, errorSummary });
    }
    const looked = await lookAhead(house, actorOf(request), rulesOfForm(value));
    if (looked instanceof Refusal) {
      const errorSummary = summaryOfRefusal(looked);
      return showForm(request, reply.code(looked.status), house, { given, errorSummary });
    }
    return sendPreview(request, reply, house, looked, { validFrom: value.validFrom });
  });

  pages.post('/shop-rules', async (request, reply) => {
    onlyEditors(request);
    const { given, value, errors } = readForm(rulesForm, request.body);
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors, LABELS);
      return showForm(request, reply.code(422), house, { given, errors, errorSummary });
    }
    const actor = actorOf(request);
    const wanted = rulesOfForm(value);
    const looked = await lookAhead(house, actor, wanted);
    const outcome =
      looked instanceof Refusal
        ? looked
        : await transact(database, (tx) =>
            setRules(
              { actor, now: now(), tx },
              { ...wanted, basedOn: value.basedOn ?? null, foreseen: looked.foreseen },
              house.listeners,
            ),
          );
    if (!(outcome instanceof Refusal) && !(looked instanceof Refusal)) {
      const later = value.carry === 'on' ? await lookAtLater(house, actor, looked) : undefined;
      return later === undefined
        ? leadOn(reply, house, actor, { what: 'set', path: '/shop-rules' })
        : sendPreview(request, reply, house, later, {
            validFromAt: later.proposal.validFrom.toISOString(),
            carried: true,
          });
    }
    if (!(outcome instanceof Refusal)) throw new Error('Rules were set that nobody has looked at.');
    const errorSummary = summaryOfRefusal(outcome);
    return showForm(request, reply.code(outcome.status), house, { given, errorSummary });
  });

  pages.post('/closures', async (request, reply) => {
    onlyEditors(request);
    const { given, value, errors } = readForm(closureForm, request.body);
    const wrong = (fields: FieldErrors) =>
      showRules(request, reply.code(422), house, {
        given,
        errors: fields,
        errorSummary: summaryOfErrors(fields),
      });
    if (errors !== undefined) return wrong(errors);
    const { timeZone } = await rulesAt(database, now());
    const wanted = closureOfForm(value, timeZone);
    if ('errors' in wanted) return wrong(wanted.errors);
    const actor = actorOf(request);
    const outcome = await transact(database, (tx) => close({ actor, now: now(), tx }, wanted, house));
    if (!(outcome instanceof Refusal))
      return leadOn(reply, house, actor, { what: 'closed', path: '/shop-rules' });
    const errorSummary = summaryOfRefusal(onForm(outcome), bookingInTheWay);
    return showRules(request, reply.code(outcome.status), house, { given, errorSummary });
  });

  pages.post('/closures/:id/lift', async (request, reply) => {
    const parsed = id.safeParse((request.params as { id?: unknown }).id);
    if (!parsed.success) throw refused('not-found', { figures: { what: 'closure' } });
    const actor = actorOf(request);
    const outcome = await transact(database, (tx) => liftClosure({ actor, now: now(), tx }, parsed.data));
    if (outcome instanceof Refusal) throw new Refused(outcome);
    return leadOn(reply, house, actor, { what: 'lifted', path: '/shop-rules' });
  });
};

/** The same change, in the version that takes over from the one just kept; undefined where that says it already. */
async function lookAtLater(
  house: ShopHouse,
  actor: Actor,
  { proposal: { rules, changed, validUntil } }: LookedAhead,
): Promise<LookedAhead | undefined> {
  if (validUntil === null) return undefined;
  const changes = Object.fromEntries(changed.map((name) => [name, rules[name]]));
  const looked = await lookAhead(house, actor, { changes, validFrom: validUntil });
  return looked instanceof Refusal ? undefined : looked;
}

/** What a change does, with the form once more, to be kept. */
async function sendPreview(
  request: FastifyRequest,
  reply: FastifyReply,
  house: ShopHouse,
  looked: LookedAhead,
  {
    carried = false,
    ...from
  }: { readonly validFrom?: string; readonly validFromAt?: string; carried?: boolean },
) {
  const fields = { ...fieldsOfRules(looked.proposal.rules), ...from, basedOn: String(looked.basedOn) };
  const { timeZone } = await rulesAt(house.database, house.now());
  return sendSheet(
    request,
    reply,
    house,
    'shop/preview',
    {
      title: 'What this change does',
      kicker: 'Shop rules',
      ...(carried && { notices: [EARLIER_KEPT] }),
    },
    {
      ...foreseenView(looked, timeZone),
      carries: [CARRY],
      fields: Object.entries(fields).map(([name, value]) => ({ name, value })),
    },
  );
}

/** @throws Refused for who may read the rules but not change them */
function onlyEditors(request: FastifyRequest): void {
  const forbidden = refusalUnless(actorOf(request), 'shop-rules-edit', {});
  if (forbidden !== undefined) throw new Refused(forbidden);
}

/** Where a reason's field of the API stands on the form. */
function onForm({ reasons: [first, ...others] }: Refusal): Refusal {
  const fields: FieldErrors = { startsAt: 'fromDate', endsAt: 'toDate' };
  const moved = (reason: Refusal['reasons'][number]) => ({
    ...reason,
    ...(reason.field !== undefined && { field: fields[reason.field] ?? reason.field }),
  });
  return new Refusal([moved(first), ...others.map(moved)]);
}

/** The booking that keeps a closure from being made. */
function bookingInTheWay({ figures = {} }: Reason) {
  return figures.bookingId === undefined
    ? undefined
    : { href: `/bookings/${figures.bookingId}`, text: SEE_BOOKING };
}

async function showRules(request: FastifyRequest, reply: FastifyReply, house: ShopHouse, shown: Shown) {
  const at = house.now();
  const [versions, closures] = await Promise.all([
    rulesInForceAndComing(house.database, at),
    closuresComing(house.database, at, null, CLOSURES_SHOWN_MAX),
  ]);
  const [inForce] = versions;
  if (inForce === undefined) throw refused('not-found', { figures: { what: 'shop rules' } });
  const { rules, version, validFrom } = inForce;
  const done = justDone(request, reply, house);
  const notice = JUST_DONE.find(({ what }) => what === done);
  return sendSheet(
    request,
    reply,
    house,
    'shop/rules',
    {
      title: 'Shop rules',
      kicker: 'What holds for everybody here',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: 'Shop rules' },
        { label: 'Version', value: String(version) },
        { label: 'In force from', value: momentText(validFrom, rules.timeZone) },
        { label: 'Drawn', value: momentText(at, rules.timeZone) },
      ],
      ...(notice !== undefined && { notices: [notice] }),
      ...(shown.errorSummary && { errorSummary: shown.errorSummary }),
    },
    {
      hours: hourFacts(rules),
      limits: ruleFacts(rules),
      coming: comingVersions(versions, rules.timeZone),
      closures: closureRows(closures, rules.timeZone),
      mayEdit: may(actorOf(request), 'shop-rules-edit'),
      closure: shown.given ?? {},
      errors: shown.errors ?? {},
    },
  );
}

async function showForm(request: FastifyRequest, reply: FastifyReply, house: ShopHouse, shown: Shown) {
  const { given = {}, errors = {}, errorSummary } = shown;
  return sendSheet(
    request,
    reply,
    house,
    'shop/change',
    {
      title: 'Change the shop rules',
      kicker: 'Shop rules',
      ...(errorSummary && { errorSummary }),
    },
    { ...ruleCells(given, errors), validFrom: given.validFrom ?? '', errors },
  );
}
