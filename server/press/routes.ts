import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { idParams } from '../http/id.js';
import { idempotencyHeaders, idempotent } from '../http/idempotent.js';
import { accept, refused } from '../http/refused.js';
import { Refusal } from '../reasons.js';
import { foreseenOnWire } from '../shop/views.js';
import { bolsterAhead, pressAhead } from './look-ahead.js';
import type { PressHouse } from './press-house.js';
import { reviseBolster } from './revise-bolster.js';
import { revisePress } from './revise-press.js';
import {
  bolsterPage,
  bolsterVersionBody,
  bolsterVersionsReply,
  bolsterView,
  bolsterWish,
  groundPreviewReply,
  pressVersionBody,
  pressVersionsReply,
  pressView,
  pressWish,
} from './schemas.js';
import { bolsterById, bolsters, mountedBolster, thePress } from './store.js';
import { bolsterVersions, pressVersions } from './version-store.js';
import {
  bolsterOffWire,
  bolsterOnWire,
  pressOnWire,
  viewOfBolster,
  viewOfPress,
  viewOfVersion,
} from './views.js';

const tags = ['press'];

/** The press and its bolsters in their versions: what plates are drawn for and checked against. */
export const pressRoutes: FastifyPluginAsyncZod<PressHouse> = async (api, house) => {
  const { database, now } = house;

  const press = async (db: Parameters<typeof thePress>[0] = database) => {
    const [found, mounted] = [await thePress(db), await mountedBolster(db)];
    if (found === undefined) throw refused('not-found', { figures: { what: 'press' } });
    return viewOfPress(found, mounted);
  };
  const bolster = async (id: string, db: Parameters<typeof bolsterById>[0] = database) => {
    const found = await bolsterById(db, id);
    if (found === undefined) throw refused('not-found', { figures: { what: 'bolster' } });
    return viewOfBolster(found);
  };

  api.get(
    '/press',
    { schema: { summary: 'The press in its latest version', tags, response: { 200: pressView } } },
    async () => press(),
  );

  api.get(
    '/press/versions',
    {
      schema: {
        summary: 'Versions of the press, the latest first, with who made them and why',
        tags,
        response: { 200: pressVersionsReply },
      },
    },
    async () => {
      const { id } = await press();
      const versions = await pressVersions(database, id);
      return { items: versions.map((version) => viewOfVersion(version, pressOnWire)), next: null };
    },
  );

  api.post(
    '/press/preview',
    {
      schema: {
        summary: 'What another version of the press would do to bookings and plates; nothing is kept',
        tags,
        body: pressWish,
        response: { 200: groundPreviewReply },
      },
    },
    async (request) => {
      const ahead = accept(await pressAhead(house, actorOf(request), request.body));
      return { ...foreseenOnWire(ahead.foreseen), changed: [...ahead.changed] };
    },
  );

  api.post(
    '/press/versions',
    {
      schema: {
        summary: 'Make a version of the press; bookings that no longer fit need attention',
        tags,
        headers: idempotencyHeaders,
        body: pressVersionBody,
        response: { 201: pressView },
      },
    },
    async (request, reply) => {
      const { body } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const ahead = await pressAhead(house, actor, body);
      const made = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(ctx, { route: 'POST /press/versions', key, body, reply: pressView }, async () => {
            if (ahead instanceof Refusal) return ahead;
            const version = await revisePress(ctx, body, ahead.foreseen, house.listeners);
            return version instanceof Refusal ? version : press(tx);
          });
        }),
      );
      return reply.code(201).send(made);
    },
  );

  api.get(
    '/bolsters',
    {
      config: { open: true },
      schema: {
        summary: 'Bolsters in their latest version, the mounted one first',
        tags,
        response: { 200: bolsterPage },
      },
    },
    // A press has a handful of bolsters: the list always fits one page.
    async () => ({ items: (await bolsters(database)).map(viewOfBolster), next: null }),
  );

  api.get(
    '/bolsters/:id',
    {
      schema: {
        summary: 'A bolster in its latest version',
        tags,
        params: idParams,
        response: { 200: bolsterView },
      },
    },
    async (request) => bolster(request.params.id),
  );

  api.get(
    '/bolsters/:id/versions',
    {
      schema: {
        summary: 'Versions of a bolster, the latest first, with who made them and why',
        tags,
        params: idParams,
        response: { 200: bolsterVersionsReply },
      },
    },
    async (request) => {
      const { id } = await bolster(request.params.id);
      const versions = await bolsterVersions(database, id);
      return { items: versions.map((version) => viewOfVersion(version, bolsterOnWire)), next: null };
    },
  );

  api.post(
    '/bolsters/:id/preview',
    {
      schema: {
        summary: 'What another version of a bolster would do to bookings and plates; nothing is kept',
        tags,
        params: idParams,
        body: bolsterWish,
        response: { 200: groundPreviewReply },
      },
    },
    async (request) => {
      const { facts, basedOn } = request.body;
      const wanted = { bolsterId: request.params.id, facts: bolsterOffWire(facts), basedOn };
      const ahead = accept(await bolsterAhead(house, actorOf(request), wanted));
      return { ...foreseenOnWire(ahead.foreseen), changed: [...ahead.changed] };
    },
  );

  api.post(
    '/bolsters/:id/versions',
    {
      schema: {
        summary:
          'Make a version of a bolster; it voids clearances, and bookings that lost theirs need attention',
        tags,
        params: idParams,
        headers: idempotencyHeaders,
        body: bolsterVersionBody,
        response: { 201: bolsterView },
      },
    },
    async (request, reply) => {
      const { body, params } = request;
      const actor = actorOf(request);
      const key = request.headers['idempotency-key'];
      const wanted = { bolsterId: params.id, facts: bolsterOffWire(body.facts), basedOn: body.basedOn };
      const ahead = await bolsterAhead(house, actor, wanted);
      const asked = {
        route: 'POST /bolsters/:id/versions',
        key,
        body: { ...body, ...params },
        reply: bolsterView,
      };
      const made = accept(
        await transact(database, (tx) => {
          const ctx = { actor, now: now(), tx };
          return idempotent(ctx, asked, async () => {
            if (ahead instanceof Refusal) return ahead;
            const revised = { ...wanted, why: body.why };
            const version = await reviseBolster(ctx, revised, ahead.foreseen, house.listeners);
            return version instanceof Refusal ? version : bolster(params.id, tx);
          });
        }),
      );
      return reply.code(201).send(made);
    },
  );
};
