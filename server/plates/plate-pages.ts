import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { summaryOfRefusal } from '../http/form.js';
import { accept, Refused, refused } from '../http/refused.js';
import { leadOn } from '../http/told-once.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import { PLATE_FORM_ERRORS } from '../words/en/plates.js';
import { wordReason } from '../words/en/reasons.js';
import type { CheckingHouse } from './checking-house.js';
import { keepRevision } from './keep.js';
import {
  drawingOfForm,
  factsOfForm,
  fieldsOf,
  formFieldOf,
  formValues,
  isDrawing,
  noDrawingText,
} from './plate-form.js';
import { plateIdOf, sendPlate } from './plate-page/send-plate.js';
import { renamePlate } from './rename-plate.js';
import { noteOfForm, plateName, revisionParams } from './schemas.js';
import { sendDrawing } from './send-drawing.js';
import { drawingOf, type Plate } from './store.js';
import { visiblePlate } from './visible-plate.js';

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
  const chosen = isDrawing(given) ? given : undefined;
  const missing = typeof given === 'string';
  const typedNote = fieldsOf(request.body).note ?? '';
  const note = noteOfForm.safeParse(typedNote.trim());
  const errors = {
    ...(missing && { dxf: noDrawingText(given) }),
    ...('errors' in facts && facts.errors),
    ...(!note.success && { note: PLATE_FORM_ERRORS.note }),
  };
  const { facingPartId = '', packerPartId = '' } = fieldsOf(request.body);
  const parts = {
    facingPartId: facingPartId === '' ? null : facingPartId,
    packerPartIds: packerPartId === '' ? [] : [packerPartId],
  };
  const tried = { values, drawing: chosen, note: typedNote, parts };
  if ('errors' in facts || missing || !note.success)
    return sendPlate(request, reply.code(given === 'too-large' ? 413 : 422), house, {
      revision: tried,
      errors,
    });
  const drawing = chosen ?? (await lastDrawing(house, plate));
  const wish = { plateId: plate.id, drawing, facts, note: note.data, parts, mustDiffer: true };
  const kept = await keepRevision(house, actor, wish);
  if (!(kept instanceof Refusal))
    return leadOn(reply, house, actor, { what: 'revised', path: `/plates/${plate.id}` });
  const atCells = kept.reasons.map((reason) => ({ ...reason, field: formFieldOf(reason) ?? 'dxf' }));
  const [first = kept.reasons[0], ...others] = atCells;
  return sendPlate(request, reply.code(kept.status), house, {
    revision: tried,
    errors: Object.fromEntries(atCells.map((reason) => [reason.field, wordReason(reason).message])),
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
    return sendPlate(request, reply.code(422), house, { name: given, errors });
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
