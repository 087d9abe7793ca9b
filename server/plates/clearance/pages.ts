import type { FastifyPluginAsync } from 'fastify';
import type { ClearanceHouse } from './clearance-house.js';
import { postRework, postVoid, showClearance } from './clearance-page.js';
import { postFit, showFit } from './fit-page.js';
import { postProduction, showProduction } from './production-page.js';
import { postTrial, showTrial } from './trial-page.js';

/** Clearance: the steps of a plate for who sees it, and a sheet for each step for the stewards who decide. */
export const clearancePages: FastifyPluginAsync<ClearanceHouse> = async (pages, house) => {
  pages.get('/plates/:id/clearance', (request, reply) => showClearance(request, reply, house));
  pages.post('/plates/:id/clearance/void', (request, reply) => postVoid(request, reply, house));
  pages.post('/plates/:id/clearance/rework', (request, reply) => postRework(request, reply, house));
  pages.get('/plates/:id/clearance/fit', (request, reply) => showFit(request, reply, house));
  pages.post('/plates/:id/clearance/fit', (request, reply) => postFit(request, reply, house));
  pages.get('/plates/:id/clearance/trial', (request, reply) => showTrial(request, reply, house));
  pages.post('/plates/:id/clearance/trial', (request, reply) => postTrial(request, reply, house));
  pages.get('/plates/:id/clearance/production', (request, reply) => showProduction(request, reply, house));
  pages.post('/plates/:id/clearance/production', (request, reply) => postProduction(request, reply, house));
};
