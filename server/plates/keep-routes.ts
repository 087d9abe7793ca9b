import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { actorOf } from '../http/acting.js';
import { DRAWING_BODY_BYTES_MAX } from '../http/dxf-text.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders } from '../http/idempotent.js';
import { accept } from '../http/refused.js';
import type { CheckingHouse } from './checking-house.js';
import { keepPlate, keepRevision } from './keep.js';
import { plateFactsOf } from './plate-facts.js';
import { keptPlateReply, revisionBody, submitBody } from './schemas.js';
import { drawingFileOf, readPlateForm } from './uploaded-drawing.js';

/** Keeping drawings: as a new plate, as the next revision of one. As JSON, or as a form with the file `dxf`. */
export const keepRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  const takesDrawing = { bodyLimit: DRAWING_BODY_BYTES_MAX, preValidation: readPlateForm };
  const schema = {
    tags: ['plates'],
    consumes: ['application/json', 'multipart/form-data'],
    headers: idempotencyHeaders,
    response: { 201: keptPlateReply },
  };

  api.post(
    '/plates',
    {
      ...takesDrawing,
      schema: { ...schema, summary: 'Keep a drawing and its facts as a new plate', body: submitBody },
    },
    async (request, reply) => {
      const { dxf, name, note = null, facingPartId = null, packerPartIds = [], ...facts } = request.body;
      const kept = await keepPlate(house, actorOf(request), {
        name,
        note,
        parts: { facingPartId, packerPartIds },
        drawing: drawingFileOf(request, dxf, name),
        facts: accept(plateFactsOf(facts)),
        key: request.headers['idempotency-key'],
      });
      return sendKept(reply, accept(kept));
    },
  );

  api.post(
    '/plates/:id/revisions',
    {
      ...takesDrawing,
      schema: {
        ...schema,
        summary: 'Add the next revision of an own plate',
        params: idParams,
        body: revisionBody,
      },
    },
    async (request, reply) => {
      const { dxf, note = null, facingPartId = null, packerPartIds = [], ...facts } = request.body;
      const kept = await keepRevision(house, actorOf(request), {
        plateId: request.params.id,
        note,
        parts: { facingPartId, packerPartIds },
        drawing: drawingFileOf(request, dxf, 'plate'),
        facts: accept(plateFactsOf(facts)),
        key: request.headers['idempotency-key'],
      });
      return sendKept(reply, accept(kept));
    },
  );
};

/** Answers with a plate that has just been kept, and where it is. */
function sendKept(reply: FastifyReply, plate: z.output<typeof keptPlateReply>): FastifyReply {
  return reply.code(201).header('location', `/api/v1/plates/${plate.id}`).send(plate);
}
