import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import { memberAsking } from '../../http/asker.js';
import { cutPage, pageQuery } from '../../http/cursor.js';
import { idParams } from '../../http/id.js';
import { accept, refused } from '../../http/refused.js';
import { bolsterById } from '../../press/store.js';
import type { CheckingHouse } from '../checking-house.js';
import { sketchMissing } from '../library/sketch-missing.js';
import { photographOfForm, takesPhotograph } from '../photographs/photograph-of-form.js';
import { visiblePlate } from '../visible-plate.js';
import { closeDamage } from './close-damage.js';
import { type DamageTold, reportDamage } from './report-damage.js';
import {
  bolsterDamageBody,
  closingBody,
  damageReply,
  damagesReply,
  damageView,
  plateDamageBody,
} from './schemas.js';
import { damageOf } from './store.js';
import { visibleDamage } from './visible-damage.js';

const tags = ['damage'];
const consumes = ['application/json', 'multipart/form-data'];

/** Damage to the faces of bolsters and to plates: reported by anybody, closed by stewards. */
export const damageRoutes: FastifyPluginAsyncZod<CheckingHouse> = async (api, house) => {
  const { database, now } = house;

  api.get(
    '/bolsters/:id/damage',
    {
      schema: {
        summary: 'Damage to a bolster, open and closed, latest first',
        tags,
        params: idParams,
        querystring: pageQuery,
        response: { 200: damagesReply },
      },
    },
    async (request) => {
      const { id: bolsterId } = request.params;
      const bolster = await bolsterById(database, bolsterId);
      if (bolster === undefined) throw refused('not-found', { figures: { what: 'bolster' } });
      return pageOfDamage({ bolsterId }, request.query);
    },
  );

  api.get(
    '/plates/:id/damage',
    {
      schema: {
        summary: 'Damage to a plate, open and closed, latest first',
        tags,
        params: idParams,
        querystring: pageQuery,
        response: { 200: damagesReply },
      },
    },
    async (request) => {
      const plate = accept(await visiblePlate(database, actorOf(request), request.params.id));
      return pageOfDamage({ plateId: plate.id }, request.query);
    },
  );

  async function pageOfDamage(
    of: { readonly bolsterId: string } | { readonly plateId: string },
    { cursor, limit }: z.output<typeof pageQuery>,
  ) {
    const page = cutPage(await damageOf(database, of, cursor ?? null, limit + 1), limit, (one) => ({
      at: one.reportedAt,
      id: one.id,
    }));
    return { ...page, items: page.items.map(damageView) };
  }

  api.post(
    '/bolsters/:id/damage',
    {
      config: takesPhotograph,
      schema: {
        summary: 'Report damage to the face of a bolster, as JSON or as a form with a photograph',
        tags,
        consumes,
        params: idParams,
        body: bolsterDamageBody,
        response: { 201: damageReply },
      },
    },
    async (request, reply) => {
      const { half, photograph, ...told } = request.body;
      const about = { bolsterId: request.params.id, half };
      return reply.code(201).send(await report(request, { ...told, about }, photograph));
    },
  );

  api.post(
    '/plates/:id/damage',
    {
      config: takesPhotograph,
      schema: {
        summary: 'Report damage to a plate, as JSON or as a form with a photograph',
        tags,
        consumes,
        params: idParams,
        body: plateDamageBody,
        response: { 201: damageReply },
      },
    },
    async (request, reply) => {
      const plate = accept(await visiblePlate(database, actorOf(request), request.params.id));
      await sketchMissing(house, memberAsking(actorOf(request)), plate.id);
      const { photograph, ...told } = request.body;
      const about = { plateId: plate.id };
      return reply.code(201).send(await report(request, { ...told, about }, photograph));
    },
  );

  async function report(request: FastifyRequest, told: Omit<DamageTold, 'photograph'>, sent: unknown) {
    const actor = actorOf(request);
    const photograph = sent === undefined ? null : accept(await photographOfForm(request));
    const damageId = accept(
      await transact(database, (tx) => reportDamage({ actor, now: now(), tx }, { ...told, photograph })),
    );
    return damageView(accept(await visibleDamage(database, actor, damageId)));
  }

  api.get(
    '/damage/:id',
    {
      schema: { summary: 'One damage', tags, params: idParams, response: { 200: damageReply } },
    },
    async (request) => damageView(accept(await visibleDamage(database, actorOf(request), request.params.id))),
  );

  api.post(
    '/damage/:id/closing',
    {
      schema: {
        summary: 'Close damage, once, with what was done about it',
        tags,
        params: idParams,
        body: closingBody,
        response: { 201: damageReply },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const wanted = { damageId: request.params.id, done: request.body.done };
      const damageId = accept(
        await transact(database, (tx) => closeDamage({ actor, now: now(), tx }, wanted)),
      );
      return reply.code(201).send(damageView(accept(await visibleDamage(database, actor, damageId))));
    },
  );
};
