import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { findPolymer, POLYMERS } from '../engineering/polymers/polymers.js';
import { actorOf } from '../http/acting.js';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { justDone, leadOn } from '../http/told-once.js';
import { may, refusalUnless } from '../members/permissions.js';
import { type Reason, Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { GRADE_CELL_WORDS, RESIN_DONE } from '../words/en/resin.js';
import { addGrade } from './add-grade.js';
import {
  fieldsOfGrade,
  GRADE_LABELS,
  gradeVersionForm,
  newGradeForm,
  sheetCells,
  sheetOfForm,
} from './grade-form.js';
import { familyRows, gradeFacts, gradeRow, versionRow } from './resin-sheet.js';
import { reviseGrade } from './revise-grade.js';
import { gradeById, grades, gradeVersions, type KeptGrade } from './store.js';

interface Shown {
  readonly given?: FieldErrors;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
}

/** Polymer families with their sources, and the grades of the house, which stewards keep. */
export const resinPages: FastifyPluginAsync<House> = async (pages, house) => {
  const { database, now } = house;

  pages.get('/resins', async (request, reply) => {
    const words = { title: 'Resins', notices: doneNotices(request, reply, house) };
    return sendSheet(request, reply, house, 'resin/resins', words, {
      grades: (await grades(database)).map(gradeRow),
      families: familyRows(),
      mayKeep: may(actorOf(request), 'grade-keep'),
    });
  });

  pages.get('/resins/new', (request, reply) => {
    onlyKeepers(request);
    return showNew(request, reply, house, {});
  });

  pages.post('/resins/new', async (request, reply) => {
    onlyKeepers(request);
    const { given, value, errors } = readForm(newGradeForm, request.body);
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors, GRADE_LABELS);
      return showNew(request, reply.code(422), house, { given, errors, errorSummary });
    }
    const actor = actorOf(request);
    const { name, polymer } = value;
    const grade = { name, polymer, isPostConsumer: value.isPostConsumer === 'yes', ...sheetOfForm(value) };
    const outcome = await transact(database, (tx) => addGrade({ actor, now: now(), tx }, grade));
    if (!(outcome instanceof Refusal))
      return leadOn(reply, house, actor, { what: 'grade-added', path: `/resins/${outcome}` });
    const errorSummary = summaryOfRefusal(onForm(outcome));
    return showNew(request, reply.code(outcome.status), house, { given, errorSummary });
  });

  pages.get('/resins/:id', async (request, reply) => {
    const grade = await gradeOf(request, house);
    const [versions, timeZone] = [await gradeVersions(database, grade.id), await house.timeZone()];
    const words = { title: grade.name, kicker: 'Resins', notices: doneNotices(request, reply, house) };
    return sendSheet(request, reply, house, 'resin/grade', words, {
      id: grade.id,
      facts: gradeFacts(grade),
      versions: versions.map((version) => versionRow(version, timeZone)),
      mayKeep: may(actorOf(request), 'grade-keep'),
    });
  });

  pages.get('/resins/:id/revise', async (request, reply) => {
    onlyKeepers(request);
    const grade = await gradeOf(request, house);
    return showRevise(request, reply, house, grade, { given: fieldsOfGrade(grade) });
  });

  pages.post('/resins/:id/revise', async (request, reply) => {
    onlyKeepers(request);
    const grade = await gradeOf(request, house);
    const { given, value, errors } = readForm(gradeVersionForm, request.body);
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors, GRADE_LABELS);
      return showRevise(request, reply.code(422), house, grade, { given, errors, errorSummary });
    }
    const actor = actorOf(request);
    const { basedOn, why } = value;
    const revised = { id: grade.id, basedOn, why, sheet: sheetOfForm(value) };
    const outcome = await transact(database, (tx) => reviseGrade({ actor, now: now(), tx }, revised));
    if (!(outcome instanceof Refusal))
      return leadOn(reply, house, actor, { what: 'grade-revised', path: `/resins/${grade.id}` });
    const errorSummary = summaryOfRefusal(onForm(outcome));
    return showRevise(request, reply.code(outcome.status), house, grade, { given, errorSummary });
  });
};

/** @throws Refused for who may read of grades but not keep them */
function onlyKeepers(request: FastifyRequest): void {
  const forbidden = refusalUnless(actorOf(request), 'grade-keep', {});
  if (forbidden !== undefined) throw new Refused(forbidden);
}

async function gradeOf(request: FastifyRequest, { database }: House): Promise<KeptGrade> {
  const parsed = id.safeParse((request.params as { id?: unknown }).id);
  const grade = parsed.success ? await gradeById(database, parsed.data) : undefined;
  if (grade === undefined) throw refused('not-found', { figures: { what: 'grade' } });
  return grade;
}

/** The form's fields have a figure's own name, not its path in a request. */
function onForm(refusal: Refusal): Refusal {
  const [first, ...others] = refusal.reasons.map(
    (reason): Reason =>
      reason.field === undefined ? reason : { ...reason, field: reason.field.replace('figures.', '') },
  );
  return first === undefined ? refusal : new Refusal([first, ...others]);
}

function doneNotices(request: FastifyRequest, reply: FastifyReply, house: House) {
  const done = RESIN_DONE[justDone(request, reply, house) ?? ''];
  return done === undefined ? [] : [done];
}

function formData({ given = {}, errors = {} }: Shown) {
  const isHalogenated = given.isHalogenated === 'yes';
  return {
    ...sheetCells(given, errors),
    halogen: [
      { id: 'isHalogenated', value: 'yes', text: GRADE_CELL_WORDS.isHalogenated, checked: isHalogenated },
    ],
  };
}

function showNew(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const { given = {}, errors = {}, errorSummary } = shown;
  const words = { title: 'Add a grade', kicker: 'Resins', ...(errorSummary && { errorSummary }) };
  const chosen = findPolymer(given.polymer ?? '')?.symbol ?? 'PP';
  return sendSheet(request, reply, house, 'resin/form', words, {
    ...formData(shown),
    action: '/resins/new',
    button: 'Add the grade',
    name: { value: given.name ?? '', error: errors.name },
    polymers: POLYMERS.map(({ symbol, name }) => ({
      value: symbol,
      text: `${symbol}, ${name}`,
      selected: symbol === chosen,
    })),
    recyclate: [
      {
        id: 'isPostConsumer',
        value: 'yes',
        text: GRADE_CELL_WORDS.isPostConsumer,
        more: GRADE_CELL_WORDS.isPostConsumerMore,
        checked: given.isPostConsumer === 'yes',
      },
    ],
  });
}

function showRevise(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  grade: KeptGrade,
  shown: Shown,
) {
  const { given = {}, errors = {}, errorSummary } = shown;
  const words = { title: grade.name, kicker: 'Resins', ...(errorSummary && { errorSummary }) };
  return sendSheet(request, reply, house, 'resin/form', words, {
    ...formData(shown),
    action: `/resins/${grade.id}/revise`,
    button: 'Keep this version',
    basedOn: given.basedOn ?? String(grade.version),
    why: { value: given.why ?? '', error: errors.why },
  });
}
