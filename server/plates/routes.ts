import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { askerOf } from '../http/asker.js';
import { cutPage } from '../http/cursor.js';
import { DRAWING_BODY_BYTES_MAX } from '../http/dxf-text.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders } from '../http/idempotent.js';
import { sendJsonBytes } from '../http/json-bytes.js';
import { limitSignedOut } from '../http/rate-limit.js';
import { accept, refused } from '../http/refused.js';
import { Refusal } from '../reasons.js';
import { sprueDiameterNow } from './check-ground.js';
import { reportNow } from './check-now.js';
import { checkReportSchema, drawingReportSchema } from './check-report-schema.js';
import type { CheckingHouse } from './checking-house.js';
import { keepPlate, keepRevision } from './keep.js';
import { plateFactsOf } from './plate-facts.js';
import { polymerNamed } from './polymer-named.js';
import { renamePlate } from './rename-plate.js';
import {
  checkBody,
  drawingBody,
  platesQuery,
  platesReply,
  renameBody,
  reportQuery,
  revisionBody,
  revisionParams,
  submitBody,
  wholePlateReply,
} from './schemas.js';
import { sendDrawing } from './send-drawing.js';
import { drawingOf, platesOf } from './store.js';
import { storedReport } from './stored-report.js';
import { drawingFileOf, readPlateForm } from './uploaded-drawing.js';
import { plateView } from './views.js';
import { ownerSeen, visiblePlate, wholePlate } from './visible-plate.js';

const tags = ['plates'];
const consumes = ['application/json', 'multipart/form-data'];

/** Reading and checking drawings, for anyone; keeping plates, for members. */
export const plateRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  const { checks, database } = house;
  const bodyLimit = DRAWING_BODY_BYTES_MAX;
  const forStrangersToo = { config: { open: true }, bodyLimit, onRequest: limitSignedOut(house) };

  api.post(
    '/drawings',
    {
      ...forStrangersToo,
      schema: {
        summary: 'Read and measure a drawing; nothing is stored',
        tags,
        body: drawingBody,
        response: { 200: drawingReportSchema },
      },
    },
    async (request, reply) => {
      const sprueDiameterMm = await sprueDiameterNow(database);
      const measured = await checks.measure(request.body.dxf, sprueDiameterMm, askerOf(request));
      return sendJsonBytes(reply, accept(measured));
    },
  );

  api.post(
    '/checks',
    {
      ...forStrangersToo,
      schema: {
        summary: 'Check a plate before metal is cut; nothing is stored',
        tags,
        body: checkBody,
        response: { 200: checkReportSchema },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const { dxf, ...facts } = body.plate;
      const wish = {
        dxf,
        facts: accept(plateFactsOf(facts, 'plate.')),
        polymer: accept(polymerNamed(body.resin.polymer ?? '', 'resin.polymer')),
        bolsterId: body.bolsterId ?? null,
      };
      const { json } = accept(await reportNow(house, wish, askerOf(request)));
      return sendJsonBytes(reply, json);
    },
  );

  api.get(
    '/plates',
    {
      schema: {
        summary: 'Own plates, newest first; for stewards everybody’s',
        tags,
        querystring: platesQuery,
        response: { 200: platesReply },
      },
    },
    async (request) => {
      const { cursor = null, limit, cleared = null } = request.query;
      const rows = await platesOf(database, ownerSeen(actorOf(request)), cursor, limit + 1, cleared);
      const page = cutPage(rows, limit, ({ createdAt, id }) => ({ at: createdAt, id }));
      return { ...page, items: page.items.map((plate) => plateView(plate, plate.cleared)) };
    },
  );

  api.post(
    '/plates',
    {
      bodyLimit,
      preValidation: readPlateForm,
      schema: {
        summary: 'Keep a drawing and its facts as a new plate',
        tags,
        consumes,
        headers: idempotencyHeaders,
        body: submitBody,
        response: { 201: wholePlateReply },
      },
    },
    async (request, reply) => {
      const { dxf, name, ...facts } = request.body;
      const drawing = drawingFileOf(request, dxf, name);
      const kept = await keepPlate(house, actorOf(request), {
        name,
        drawing,
        facts: accept(plateFactsOf(facts)),
        key: request.headers['idempotency-key'],
      });
      return sendKept(reply, accept(kept));
    },
  );

  api.get(
    '/plates/:id',
    {
      schema: {
        summary: 'A plate with its revisions',
        tags,
        params: idParams,
        response: { 200: wholePlateReply },
      },
    },
    async (request) => accept(await wholePlate(database, actorOf(request), request.params.id)),
  );

  api.patch(
    '/plates/:id',
    {
      schema: {
        summary: 'Rename an own plate',
        tags,
        params: idParams,
        body: renameBody,
        response: { 200: wholePlateReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const wish = { plateId: request.params.id, name: request.body.name };
      const renamed = await transact(database, async (tx) => {
        const plateId = await renamePlate({ actor, now: house.now(), tx }, wish);
        return plateId instanceof Refusal ? plateId : wholePlate(tx, actor, plateId);
      });
      return accept(renamed);
    },
  );

  api.post(
    '/plates/:id/revisions',
    {
      bodyLimit,
      preValidation: readPlateForm,
      schema: {
        summary: 'Add the next revision of an own plate',
        tags,
        consumes,
        params: idParams,
        headers: idempotencyHeaders,
        body: revisionBody,
        response: { 201: wholePlateReply },
      },
    },
    async (request, reply) => {
      const { dxf, ...facts } = request.body;
      const drawing = drawingFileOf(request, dxf, 'plate');
      const kept = await keepRevision(house, actorOf(request), {
        plateId: request.params.id,
        drawing,
        facts: accept(plateFactsOf(facts)),
        key: request.headers['idempotency-key'],
      });
      return sendKept(reply, accept(kept));
    },
  );

  api.get(
    '/plates/:id/revisions/:revision/check',
    {
      schema: {
        summary: 'The stored report of a revision, computed now if it never was',
        tags,
        params: revisionParams,
        querystring: reportQuery,
        response: { 200: checkReportSchema },
      },
    },
    async (request, reply) => {
      const { id, revision } = request.params;
      const polymer = accept(polymerNamed(request.query.polymer));
      accept(await visiblePlate(database, actorOf(request), id));
      const wish = { plateId: id, revision, polymer, bolsterId: request.query.bolsterId ?? null };
      const { json } = accept(await storedReport(house, wish, askerOf(request)));
      return sendJsonBytes(reply, json);
    },
  );

  api.get(
    '/plates/:id/revisions/:revision/drawing',
    {
      schema: {
        summary: 'The drawing as it was handed in',
        tags,
        params: revisionParams,
        response: {
          200: {
            description: 'A DXF file.',
            content: { 'image/vnd.dxf': { schema: z.string() } },
          },
        },
      },
    },
    async (request, reply) => {
      const { id, revision } = request.params;
      accept(await visiblePlate(database, actorOf(request), id));
      const file = await drawingOf(database, id, revision);
      if (file === undefined) throw refused('not-found', { figures: { what: 'revision' } });
      return sendDrawing(reply, file);
    },
  );
};

/** Answers with a plate that has just been kept, and where it is. */
function sendKept(reply: FastifyReply, plate: z.output<typeof wholePlateReply>): FastifyReply {
  return reply.code(201).header('location', `/api/v1/plates/${plate.id}`).send(plate);
}
