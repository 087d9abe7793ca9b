import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { actorOf } from '../http/acting.js';
import { askerOf } from '../http/asker.js';
import { DRAWING_BODY_BYTES_MAX } from '../http/dxf-text.js';
import { sendJsonBytes } from '../http/json-bytes.js';
import { limitSignedOut } from '../http/rate-limit.js';
import { accept } from '../http/refused.js';
import { type Reason, Refusal } from '../reasons.js';
import { sprueDiameterNow } from './check-ground.js';
import { reportNow } from './check-now.js';
import { checkReportSchema, drawingReportSchema } from './check-report-schema.js';
import type { CheckingHouse } from './checking-house.js';
import { plateFactsOf } from './plate-facts.js';
import { polymerNamed } from './polymer-named.js';
import { resinAsked } from './resin-asked.js';
import { runFactsOf } from './run-facts.js';
import { checkBody, drawingBody, reportQuery, revisionParams } from './schemas.js';
import { storedReport } from './stored-report.js';
import { visiblePlate } from './visible-plate.js';

const tags = ['plates'];

/** Reading and checking drawings, for anyone; the reports of kept plates. */
export const checkRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  const { checks, database } = house;
  const forStrangersToo = {
    config: { open: true },
    bodyLimit: DRAWING_BODY_BYTES_MAX,
    onRequest: limitSignedOut(house),
  };

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
        ...accept(await resinAsked(database, body.resin, request.actor)),
        bolsterId: body.bolsterId ?? null,
        run: runFactsOf(body.run),
      };
      const { json } = accept(underPlate(await reportNow(house, wish, askerOf(request))));
      return sendJsonBytes(reply, json);
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
};

/** A check's facts stand under `plate` in its request: what is wrong with them is told there. */
function underPlate<Result>(result: Result | Refusal): Result | Refusal {
  if (!(result instanceof Refusal)) return result;
  const [first, ...others] = result.reasons;
  const under = (reason: Reason): Reason =>
    reason.field?.startsWith('screwGroups.') === true
      ? { ...reason, field: `plate.${reason.field}` }
      : reason;
  return new Refusal([under(first), ...others.map(under)]);
}
