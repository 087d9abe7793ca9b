import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

export const ASSETS_PREFIX = '/assets/';

const YEAR_SECONDS = 31_536_000;
const HOUR_SECONDS = 3600;

/** Serves `public`. Addresses that carry a piece of the content's hash may be kept for ever. */
export async function serveAssets(app: FastifyInstance, publicFolder: string): Promise<void> {
  await app.register(async (assets) => {
    assets.addHook('onRequest', async (request, reply) => {
      const { v } = request.query as { v?: unknown };
      reply.header(
        'cache-control',
        typeof v === 'string'
          ? `public, max-age=${YEAR_SECONDS}, immutable`
          : `public, max-age=${HOUR_SECONDS}`,
      );
    });
    assets.addHook('onRoute', (route) => {
      route.config = { ...route.config, open: true };
    });
    await assets.register(fastifyStatic, {
      root: publicFolder,
      prefix: ASSETS_PREFIX,
      cacheControl: false,
      index: false,
    });
  });
}
