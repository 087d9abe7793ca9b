import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../../database/transaction.js';
import { actorOf } from '../../http/acting.js';
import { summaryOfRefusal } from '../../http/form.js';
import { id as idSchema } from '../../http/id.js';
import { accept, Refused, refused } from '../../http/refused.js';
import { leadOn } from '../../http/told-once.js';
import { Refusal } from '../../reasons.js';
import { wordReason } from '../../words/en/reasons.js';
import type { CheckingHouse } from '../checking-house.js';
import { fieldsOf } from '../plate-form.js';
import { plateIdOf, sendPlate } from '../plate-page/send-plate.js';
import { keepPhotographOfForm, takesPhotograph } from './photograph-of-form.js';
import { removePhotograph } from './remove-photograph.js';
import { photographBody } from './schemas.js';
import { sendPhotograph } from './send-photograph.js';
import { visiblePhotograph } from './visible-photograph.js';

/** Photographs: shown by themselves, added and removed on the page of what they show. */
export const photographPages: FastifyPluginAsync<CheckingHouse> = async (pages, house) => {
  pages.get('/photographs/:id', (request, reply) => showPhotograph(request, reply, house));
  pages.post('/photographs/:id/remove', (request, reply) => postRemoval(request, reply, house));
  pages.post('/plates/:id/photographs', { config: takesPhotograph }, (request, reply) =>
    postPhotograph(request, reply, house),
  );
};

async function showPhotograph(request: FastifyRequest, reply: FastifyReply, { database }: CheckingHouse) {
  const { id } = accept(await visiblePhotograph(database, actorOf(request), photographIdOf(request)));
  const { size } = request.query as { readonly size?: unknown };
  return sendPhotograph(reply, database, id, size === 'thumb' ? 'thumb' : 'whole');
}

async function postPhotograph(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const plateId = plateIdOf(request);
  const { caption: typed = '' } = fieldsOf(request.body);
  const caption = photographBody.shape.caption.safeParse(typed.trim().slice(0, 200)).data ?? '';
  const kept = await keepPhotographOfForm(request, house, actor, { plateId, revision: undefined, caption });
  if (!(kept instanceof Refusal))
    return leadOn(reply, house, actor, { what: 'photographed', path: `/plates/${plateId}` });
  if (kept.status === 403 || kept.status === 404) throw new Refused(kept);
  const [first] = kept.reasons;
  return sendPlate(request, reply.code(kept.status), house, {
    photograph: { caption: typed, error: wordReason(first).message },
    errorSummary: summaryOfRefusal(kept),
  });
}

async function postRemoval(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const photographId = photographIdOf(request);
  const { plateId } = accept(
    await transact(house.database, (tx) => removePhotograph({ actor, now: house.now(), tx }, photographId)),
  );
  const path = plateId === null ? '/' : `/plates/${plateId}`;
  return leadOn(reply, house, actor, { what: 'photograph-removed', path });
}

/** @throws Refused where it cannot be one of ours */
function photographIdOf(request: FastifyRequest): string {
  const parsed = idSchema.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'photograph' } });
  return parsed.data;
}
