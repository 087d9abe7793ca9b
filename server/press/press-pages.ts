import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { leadOn } from '../http/told-once.js';
import { may, refusalUnless } from '../members/permissions.js';
import { type Reason, Refusal } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import type { ErrorSummaryView } from '../views.js';
import { ADD_BOLSTER, INSPECTION_WORDS } from '../words/en/press.js';
import { momentText } from '../words/en/times.js';
import { readWhy } from './bolster-form/bolster-form.js';
import { pressChangeRows } from './change-rows.js';
import { sendGroundPreview } from './ground-preview.js';
import { recordInspection } from './inspections/record-inspection.js';
import { type InspectionDue, inspectionDue, inspections } from './inspections/store.js';
import { pressAhead } from './look-ahead.js';
import { mountings } from './mounting-store.js';
import { onlyEditors } from './only-editors.js';
import { putBack } from './outages/put-back.js';
import { equipmentPieces, outagesComing } from './outages/store.js';
import { takeOut } from './outages/take-out.js';
import { fieldsOfPress, readPressForm } from './press-form.js';
import type { PressHouse } from './press-house.js';
import { doneNotices } from './press-notices.js';
import {
  bolsterLines,
  inspectionLines,
  mountingLines,
  outageLines,
  PRESS_LABELS,
  pressCells,
  pressFactLines,
  pressHistory,
} from './press-sheet.js';
import { revisePress } from './revise-press.js';
import { inspectionForm, outageForm, outageOfForm } from './service-form.js';
import { bolsters, type Press, thePress } from './store.js';
import { pressVersions } from './version-store.js';

interface Shown {
  readonly given?: FieldErrors;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
}

/** The press: what it is, what is in it, what is out of service, when it is inspected. */
export function pressPages(pages: FastifyInstance, house: PressHouse): void {
  const { database, now } = house;

  pages.get('/press', (request, reply) => showPress(request, reply, house, {}));

  pages.get('/press/change', async (request, reply) => {
    onlyEditors(request);
    const { facts, version } = await pressHere(house);
    return showForm(request, reply, house, { given: { ...fieldsOfPress(facts), basedOn: String(version) } });
  });

  pages.post('/press/preview', async (request, reply) => {
    onlyEditors(request);
    const asked = readAsked(request.body);
    if (asked.shown !== undefined) return showForm(request, reply.code(422), house, asked.shown);
    const before = await pressHere(house);
    const ahead = await pressAhead(house, actorOf(request), asked.wanted);
    if (ahead instanceof Refusal) {
      const { given } = asked;
      return showForm(request, reply.code(ahead.status), house, {
        given,
        errorSummary: summaryOfRefusal(ahead),
      });
    }
    return sendGroundPreview(request, reply, house, {
      kicker: `The press, version ${before.version}`,
      action: '/press',
      back: '/press/change',
      keep: 'Keep this version',
      isMounted: true,
      changes: pressChangeRows(before.facts, asked.wanted.facts),
      foreseen: ahead.foreseen,
      fields: asked.given,
      pictures: [],
    });
  });

  pages.post('/press', async (request, reply) => {
    onlyEditors(request);
    const asked = readAsked(request.body);
    if (asked.shown !== undefined) return showForm(request, reply.code(422), house, asked.shown);
    const actor = actorOf(request);
    const ahead = await pressAhead(house, actor, asked.wanted);
    const outcome =
      ahead instanceof Refusal
        ? ahead
        : await transact(database, (tx) =>
            revisePress({ actor, now: now(), tx }, asked.wanted, ahead.foreseen, house.listeners),
          );
    if (!(outcome instanceof Refusal))
      return leadOn(reply, house, actor, { what: 'revised', path: '/press' });
    const errorSummary = summaryOfRefusal(outcome);
    return showForm(request, reply.code(outcome.status), house, { given: asked.given, errorSummary });
  });

  pages.post('/outages', async (request, reply) => {
    const forbidden = refusalUnless(actorOf(request), 'press-service', {});
    if (forbidden !== undefined) throw new Refused(forbidden);
    const { given, value, errors } = readForm(outageForm, request.body);
    const wrong = (fields: FieldErrors) =>
      showPress(request, reply.code(422), house, {
        given,
        errors: fields,
        errorSummary: summaryOfErrors(fields),
      });
    if (errors !== undefined) return wrong(errors);
    const { timeZone } = await rulesAt(database, now());
    const wanted = outageOfForm(value, timeZone);
    if ('errors' in wanted) return wrong(wanted.errors);
    const actor = actorOf(request);
    const outcome = await transact(database, (tx) =>
      takeOut({ actor, now: now(), tx }, wanted, house.listeners),
    );
    if (!(outcome instanceof Refusal)) return leadOn(reply, house, actor, { what: 'out', path: '/press' });
    const errorSummary = summaryOfRefusal(onForm(outcome));
    return showPress(request, reply.code(outcome.status), house, { given, errorSummary });
  });

  pages.post('/outages/:id/back', async (request, reply) => {
    const parsed = id.safeParse((request.params as { id?: unknown }).id);
    if (!parsed.success) throw refused('not-found', { figures: { what: 'time out of service' } });
    const actor = actorOf(request);
    const outcome = await transact(database, (tx) =>
      putBack({ actor, now: now(), tx }, parsed.data, house.listeners),
    );
    if (outcome instanceof Refusal) throw new Refused(outcome);
    return leadOn(reply, house, actor, { what: 'back', path: '/press' });
  });

  pages.post('/inspections', async (request, reply) => {
    onlyEditors(request);
    const { given, value, errors } = readForm(inspectionForm, request.body);
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors);
      return showPress(request, reply.code(422), house, { given, errors, errorSummary });
    }
    const actor = actorOf(request);
    const outcome = await transact(database, (tx) => recordInspection({ actor, now: now(), tx }, value));
    if (!(outcome instanceof Refusal))
      return leadOn(reply, house, actor, { what: 'inspected', path: '/press' });
    const errorSummary = summaryOfRefusal(outcome);
    return showPress(request, reply.code(outcome.status), house, { given, errorSummary });
  });
}

/** What the press's form says, or the form as it is to be shown again. */
function readAsked(body: unknown) {
  const [press, why] = [readPressForm(body), readWhy(body)];
  const { given } = press;
  if (press.value === undefined || why.value === undefined) {
    const errors = { ...press.errors, ...why.errors };
    return { given, shown: { given, errors, errorSummary: summaryOfErrors(errors, PRESS_LABELS) } };
  }
  return { given, wanted: { facts: press.value, why: why.value.why, basedOn: Number(given.basedOn) } };
}

/** Where a reason's field of the API stands on the form. */
function onForm({ reasons: [first, ...others] }: Refusal): Refusal {
  const fields: FieldErrors = { startsAt: 'fromDate', endsAt: 'toDate' };
  const moved = (reason: Reason): Reason => ({
    ...reason,
    ...(reason.field !== undefined && { field: fields[reason.field] ?? reason.field }),
  });
  return new Refusal([moved(first), ...others.map(moved)]);
}

async function pressHere(house: PressHouse): Promise<Press> {
  const press = await thePress(house.database);
  if (press === undefined) throw refused('not-found', { figures: { what: 'press' } });
  return press;
}

async function showPress(request: FastifyRequest, reply: FastifyReply, house: PressHouse, shown: Shown) {
  const { database, now } = house;
  const at = now();
  const press = await pressHere(house);
  const [rules, all, versions, outages, pieces, recorded, due, mounted] = await Promise.all([
    rulesAt(database, at),
    bolsters(database),
    pressVersions(database, press.id),
    outagesComing(database, at),
    equipmentPieces(database),
    inspections(database, press.id),
    inspectionDue(database, press.id, at),
    mountings(database, press.id),
  ]);
  const { timeZone } = rules;
  const actor = actorOf(request);
  const { given = {}, errors = {}, errorSummary } = shown;
  const mayEdit = may(actor, 'press-edit');
  const inPress = all.find((one) => one.mounted);
  return sendSheet(
    request,
    reply,
    house,
    'press/press',
    {
      title: press.name,
      kicker: 'The press and its bolsters',
      current: 'press',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: 'The press' },
        { label: 'Version', value: String(press.version) },
        {
          label: 'Bolster',
          value: inPress === undefined ? 'none' : `${inPress.name}, version ${inPress.version}`,
        },
        { label: 'Drawn', value: momentText(at, timeZone) },
      ],
      notices: doneNotices(request, reply, house),
      ...(errorSummary && { errorSummary }),
    },
    {
      ...pressFactLines(press.facts),
      bolsters: bolsterLines(all),
      mountings: mountingLines(mounted, timeZone),
      outages: outageLines(outages, at, timeZone),
      inspections: inspectionLines(recorded, timeZone),
      inspection: inspectionText(due, timeZone),
      isOverdue: due.overdue,
      history: pressHistory(versions, timeZone),
      equipment: pieces.map(({ id: value, name }) => ({
        value,
        text: name,
        selected: value === given.equipmentId,
      })),
      mayEdit,
      ...(mayEdit && { addBolster: ADD_BOLSTER }),
      mayService: may(actor, 'press-service'),
      serviceOpen: given.toDate !== undefined,
      inspectionOpen: given.inspectedOn !== undefined,
      given,
      errors,
    },
  );
}

function inspectionText({ dueAt, overdue }: InspectionDue, timeZone: string): string {
  if (dueAt === null) return INSPECTION_WORDS.never;
  const moment = momentText(dueAt, timeZone);
  return overdue ? INSPECTION_WORDS.overdue(moment) : INSPECTION_WORDS.due(moment);
}

async function showForm(request: FastifyRequest, reply: FastifyReply, house: PressHouse, shown: Shown) {
  const { given = {}, errors = {}, errorSummary } = shown;
  return sendSheet(
    request,
    reply,
    house,
    'press/change',
    {
      title: 'Change the press',
      kicker: 'From its plate and manual',
      current: 'press',
      ...(errorSummary && { errorSummary }),
    },
    {
      ...pressCells({ given, errors }),
      why: given.why ?? '',
      basedOn: given.basedOn ?? '',
      errors,
    },
  );
}
