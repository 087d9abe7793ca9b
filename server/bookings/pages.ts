import type { FastifyPluginAsync } from 'fastify';
import type { CheckingHouse } from '../plates/checking-house.js';
import { postCancel, postMove, showAll, showBooking, showCancel, showMine } from './booking-pages.js';
import { postNewBooking, showNewBooking } from './new-booking-page.js';
import { weekPage } from './week-page.js';

/** The press week, booking, and what one has booked. */
export const bookingPages: FastifyPluginAsync<CheckingHouse> = async (pages, house) => {
  pages.get('/week', weekPage(house));
  pages.get('/bookings', (request, reply) => showMine(request, reply, house));
  pages.get('/bookings/all', (request, reply) => showAll(request, reply, house));
  pages.get('/bookings/new', (request, reply) => showNewBooking(request, reply, house));
  pages.post('/bookings/new', (request, reply) => postNewBooking(request, reply, house));
  pages.get('/bookings/:id', (request, reply) => showBooking(request, reply, house));
  pages.post('/bookings/:id/move', (request, reply) => postMove(request, reply, house));
  pages.get('/bookings/:id/cancel', (request, reply) => showCancel(request, reply, house));
  pages.post('/bookings/:id/cancel', (request, reply) => postCancel(request, reply, house));
};
