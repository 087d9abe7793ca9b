import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import type { Verdict } from '../engineering/finding.js';
import { POLYMERS } from '../engineering/polymers/polymers.js';
import { actorOf } from '../http/acting.js';
import { type Asker, memberAsking } from '../http/asker.js';
import { cursor, cutPage } from '../http/cursor.js';
import { summaryOfRefusal } from '../http/form.js';
import { id as idSchema } from '../http/id.js';
import { accept, Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { justDone, leadOn } from '../http/told-once.js';
import { may, refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import type { ErrorSummaryView } from '../views.js';
import { NOT_BOOKABLE, olderText, PLATE_FORM_ERRORS } from '../words/en/plates.js';
import { wordReason } from '../words/en/reasons.js';
import { momentText } from '../words/en/times.js';
import { checkGround } from './check-ground.js';
import { checkOn } from './check-now.js';
import { checkResult, checkTitleBlock } from './check-page.js';
import { type CheckFormValues, checkForm } from './check-page-form.js';
import type { CheckingHouse } from './checking-house.js';
import { keepRevision } from './keep.js';
import {
  carriedWith,
  drawingOfForm,
  factsOfForm,
  fieldsOf,
  formValues,
  LOST,
  type PlateFormErrors,
  summaryOfPlateForm,
  valuesOfFacts,
} from './plate-form.js';
import { polymerNamed } from './polymer-named.js';
import { renamePlate } from './rename-plate.js';
import { plateName, revisionParams } from './schemas.js';
import { sendDrawing } from './send-drawing.js';
import { drawingOf, type Plate, type PlateVerdict, platesOf, type Revision, revisionsOf } from './store.js';
import { storedReport } from './stored-report.js';
import type { DrawingFile } from './uploaded-drawing.js';
import { verdictsNow } from './verdicts-now.js';
import { ownerSeen, visiblePlate } from './visible-plate.js';

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

/** One plate: a revision drawn on the bolster, its report, and the form for the next revision. */
export async function showPlate(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return sendPlate(request, reply, house, {});
}

/** Adds a revision, with a new drawing or with the old one and other facts. */
export async function postRevision(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const plate = accept(await visiblePlate(house.database, actor, plateIdOf(request)));
  // Before the drawing is measured, which takes a while.
  const forbidden = refusalUnless(actor, 'plate-revise', plate);
  if (forbidden !== undefined) throw new Refused(forbidden);
  const values = formValues(request.body, '');
  const facts = factsOfForm(values);
  const given = await drawingOfForm(request);
  const chosen = given === LOST ? undefined : given;
  const errors = {
    ...(given === LOST && { dxf: PLATE_FORM_ERRORS.lost }),
    ...('errors' in facts && facts.errors),
  };
  if ('errors' in facts || given === LOST)
    return sendPlate(request, reply.code(422), house, { values, errors, drawing: chosen });
  const drawing = chosen ?? (await lastDrawing(house, plate));
  const kept = await keepRevision(house, actor, { plateId: plate.id, drawing, facts, mustDiffer: true });
  if (!(kept instanceof Refusal))
    return leadOn(reply, house, actor, { what: 'revised', path: `/plates/${plate.id}` });
  const onDrawing = kept.reasons.map((reason) => ({ ...reason, field: 'dxf' }));
  const [first = kept.reasons[0], ...others] = onDrawing;
  return sendPlate(request, reply.code(kept.status), house, {
    values,
    drawing: chosen,
    errors: { dxf: wordReason(first).message },
    errorSummary: summaryOfRefusal(new Refusal([first, ...others])),
  });
}

/** Gives the plate another name, or says why not. */
export async function postName(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const plateId = plateIdOf(request);
  const given = fieldsOf(request.body).name ?? '';
  const name = plateName.safeParse(given);
  if (!name.success) {
    const errors = { name: PLATE_FORM_ERRORS.name };
    return sendPlate(request, reply.code(422), house, { errors, name: given });
  }
  const wish = { plateId, name: name.data };
  accept(await transact(house.database, (tx) => renamePlate({ actor, now: house.now(), tx }, wish)));
  return leadOn(reply, house, actor, { what: 'renamed', path: `/plates/${plateId}` });
}

/** The drawing as it was handed in. */
export async function getDrawing(request: FastifyRequest, reply: FastifyReply, { database }: CheckingHouse) {
  const params = revisionParams.safeParse(request.params);
  if (!params.success) throw refused('not-found', { figures: { what: 'revision' } });
  const { id, revision } = params.data;
  accept(await visiblePlate(database, actorOf(request), id));
  const file = await drawingOf(database, id, revision);
  if (file === undefined) throw refused('not-found', { figures: { what: 'revision' } });
  return sendDrawing(reply, file);
}

async function lastDrawing({ database }: CheckingHouse, { id, latestRevision }: Plate) {
  const file = await drawingOf(database, id, latestRevision);
  if (file === undefined) throw new Error(`Plate ${id} has no revision ${latestRevision}.`);
  return { bytes: file.dxf, fileName: file.fileName };
}

/** The id in the address. @throws Refused where it cannot be one of ours */
function plateIdOf(request: FastifyRequest): string {
  const parsed = idSchema.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'plate' } });
  return parsed.data;
}

interface Shown {
  readonly values?: CheckFormValues;
  /** Wished for the plate. */
  readonly name?: string;
  /** Chosen for the next revision; stays with the form. */
  readonly drawing?: DrawingFile | undefined;
  readonly errors?: PlateFormErrors;
  readonly errorSummary?: ErrorSummaryView;
}

const JUST_DONE = {
  kept: {
    word: 'kept',
    text: 'This is a plate of yours now. Bookings are made with its latest revision, when that has no stop.',
  },
  renamed: { word: 'renamed', text: 'The plate has its new name.' },
  revised: { word: 'kept', text: 'The new revision is kept. Bookings are made with the latest one.' },
} as const;

async function sendPlate(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse, shown: Shown) {
  const { database } = house;
  const actor = actorOf(request);
  const plate = accept(await visiblePlate(database, actor, plateIdOf(request)));
  const query = request.query as { readonly [field: string]: unknown };
  const [rules, revisions] = await Promise.all([
    rulesAt(database, house.now()),
    revisionsOf(database, plate.id),
  ]);
  const revision = revisionAsked(revisions, query.revision);
  const polymer = polymerAsked(query.polymer);
  const seen = await reportSeen(house, revision, polymer, memberAsking(actor));
  const own = may(actor, 'plate-revise', plate);
  const { errors = {} } = shown;
  const errorSummary = shown.errorSummary ?? summaryOfPlateForm(errors);
  const notice = noticeOf(justDone(request, reply, house));
  const form = checkForm({
    values: shown.values ?? valuesOfFacts(revision.facts, polymer, ''),
    bolsters: [],
    errors,
    read: null,
    ...(await carriedWith(shown.drawing)),
  });
  const report = seen instanceof Refusal ? undefined : seen;
  return sendSheet(
    request,
    reply,
    house,
    'plates/plate',
    {
      title: plate.name,
      kicker: `Plate, revision ${revision.revision} of ${plate.latestRevision}`,
      current: 'plates',
      place: rules.makerspaceName,
      firstAngle: report !== undefined,
      ...(report && {
        titleBlock: checkTitleBlock(
          { facts: revision.facts, bolster: report.done.ground.bolster, check: report.done.check },
          {
            sheet: { label: 'Sheet', value: `${plate.name}, revision ${revision.revision}` },
            checkedAt: momentText(report.checkedAt, rules.timeZone),
          },
        ),
      }),
      ...(notice && { notices: [notice] }),
      ...(errorSummary && { errorSummary }),
    },
    {
      plate: { id: plate.id },
      own,
      name: shown.name ?? plate.name,
      nameError: errors.name,
      result: report?.result,
      noReport: seen instanceof Refusal ? summaryOfRefusal(seen).items : [],
      polymers: POLYMERS.map(({ symbol, name }) => ({
        value: symbol,
        text: `${symbol}, ${name}`,
        selected: symbol === polymer,
      })),
      revision: revision.revision,
      revisions: revisions.map((one) => revisionRow(plate, one, revision, rules.timeZone)),
      drawingHref: drawingAddress(plate, revision),
      ...bookable({
        plate,
        revision,
        polymer,
        verdict: report?.done.check.verdict,
        may: may(actor, 'plate-run', plate),
      }),
      cells: form.cells.filter(({ name }) => name !== 'polymer' && name !== 'bolsterId'),
      form,
    },
  );
}

/** How the plate on view is booked, or why not: only the latest revision is, and none with a stop. */
function bookable(shown: {
  readonly plate: Plate;
  readonly revision: Revision;
  readonly polymer: string;
  readonly verdict: Verdict | undefined;
  readonly may: boolean;
}) {
  const { plate, revision, polymer, verdict } = shown;
  const latest = plate.latestRevision;
  if (revision.revision !== latest)
    return { older: { href: `/plates/${plate.id}?polymer=${polymer}`, text: olderText(latest) } };
  if (!shown.may) return {};
  if (verdict === 'stop') return { notBookable: NOT_BOOKABLE };
  return { bookHref: `/bookings/new?plateId=${plate.id}&polymer=${polymer}` };
}

/** The stored report with what it takes to draw it: the same inputs give the same findings again. */
async function reportSeen(house: CheckingHouse, revision: Revision, polymer: string, asker: Asker) {
  const { plateId, facts } = revision;
  const wish = { plateId, revision: revision.revision, polymer, bolsterId: null };
  const stored = await storedReport(house, wish, asker);
  if (stored instanceof Refusal) return stored;
  const ground = await checkGround(house.database, house.now(), null);
  if (ground instanceof Refusal) return ground;
  const file = await drawingOf(house.database, plateId, revision.revision);
  const done = await checkOn(house, ground, { dxf: file?.dxf ?? '', facts, polymer }, asker);
  if (done instanceof Refusal) return done;
  const result = checkResult({ ...done, facts, bolster: ground.bolster });
  return { done, result, checkedAt: stored.createdAt };
}

function revisionAsked(revisions: readonly Revision[], asked: unknown): Revision {
  const found = asked === undefined ? revisions[0] : revisions.find((one) => String(one.revision) === asked);
  if (found === undefined) throw refused('not-found', { figures: { what: 'revision' } });
  return found;
}

function polymerAsked(asked: unknown): string {
  return typeof asked === 'string' && asked !== '' ? accept(polymerNamed(asked)) : 'PP';
}

function noticeOf(done: string | undefined) {
  return Object.entries(JUST_DONE).find(([what]) => what === done)?.[1];
}

function revisionRow(plate: Plate, one: Revision, current: Revision, timeZone: string) {
  return {
    revision: one.revision,
    href: `/plates/${plate.id}?revision=${one.revision}`,
    current: one === current,
    kept: momentText(one.createdAt, timeZone),
    facts: `${one.facts.alloy}, ${one.facts.thicknessMm} mm, ${one.facts.screw.size} × ${one.facts.screw.lengthMm}`,
    fileName: one.fileName,
    drawingHref: drawingAddress(plate, one),
  };
}

function drawingAddress({ id }: Plate, { revision }: Revision): string {
  return `/plates/${id}/revisions/${revision}/drawing`;
}
