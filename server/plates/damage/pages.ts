import type { FastifyPluginAsync } from 'fastify';
import type { CheckingHouse } from '../checking-house.js';
import { takesPhotograph } from '../photographs/photograph-of-form.js';
import { postClosing, showDamage } from './damage-page.js';
import { postBolsterDamage, postPlateDamage, showBolsterDamage, showPlateDamage } from './damages-page.js';

/** The log of damage to bolsters and plates. */
export const damagePages: FastifyPluginAsync<CheckingHouse> = async (pages, house) => {
  pages.get('/bolsters/:id/damage', (request, reply) => showBolsterDamage(request, reply, house));
  pages.post('/bolsters/:id/damage', { config: takesPhotograph }, (request, reply) =>
    postBolsterDamage(request, reply, house),
  );
  pages.get('/plates/:id/damage', (request, reply) => showPlateDamage(request, reply, house));
  pages.post('/plates/:id/damage', { config: takesPhotograph }, (request, reply) =>
    postPlateDamage(request, reply, house),
  );
  pages.get('/damage/:id', (request, reply) => showDamage(request, reply, house));
  pages.post('/damage/:id/close', (request, reply) => postClosing(request, reply, house));
};
