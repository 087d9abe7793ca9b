import type { FastifyPluginAsync } from 'fastify';
import type { CheckingHouse } from '../plates/checking-house.js';
import { takesPhotograph } from '../plates/photographs/photograph-of-form.js';
import { postOpen, showOpen } from './open-pages.js';
import { postClose, postStep, showRun, showRuns } from './run-pages.js';
import { showTrialSheet } from './trial-sheet-page.js';

/** Opening a run, leading a trial, closing; the trial sheet for the wall. */
export const runPages: FastifyPluginAsync<CheckingHouse> = async (pages, house) => {
  pages.get('/bookings/:id/run', (request, reply) => showOpen(request, reply, house));
  pages.post('/bookings/:id/run', (request, reply) => postOpen(request, reply, house));
  pages.get('/bookings/:id/trial-sheet', (request, reply) => showTrialSheet(request, reply, house));
  pages.get('/runs', (request, reply) => showRuns(request, reply, house));
  pages.get('/runs/:id', (request, reply) => showRun(request, reply, house));
  pages.post('/runs/:id/steps', { config: takesPhotograph }, (request, reply) =>
    postStep(request, reply, house),
  );
  pages.post('/runs/:id/close', (request, reply) => postClose(request, reply, house));
};
