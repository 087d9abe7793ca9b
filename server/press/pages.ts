import type { FastifyPluginAsync } from 'fastify';
import { bolsterPages } from './bolster-pages.js';
import type { PressHouse } from './press-house.js';
import { pressPages } from './press-pages.js';
import { stockPages } from './stock-pages.js';

/** The press, its bolsters, and the stock of facing plates and packers. */
export const pressRoomPages: FastifyPluginAsync<PressHouse> = async (pages, house) => {
  pressPages(pages, house);
  bolsterPages(pages, house);
  stockPages(pages, house);
};
