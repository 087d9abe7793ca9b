import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';

export const ASSETS_PREFIX = '/assets/';

const YEAR_SECONDS = 31_536_000;
const HOUR_SECONDS = 3600;

/** Serves `public`. Addresses that carry a piece of the content's hash may be kept for ever. */
export async function serveAssets(app: FastifyInstance, publicFolder: string): Promise<void> {
  await app.register(async (assets) => {
    assets.addHook('onSend', async (request, reply) => {
      if (reply.statusCode >= 400) return;
      const { v } = request.query as { v?: unknown };
      const keepSeconds = typeof v === 'string' ? YEAR_SECONDS : HOUR_SECONDS;
      const immutable = typeof v === 'string' ? ', immutable' : '';
      reply.header('cache-control', `public, max-age=${keepSeconds}${immutable}`);
    });
    // A path that leads out of the folder is simply not there.
    assets.setErrorHandler((_error, _request, reply) => reply.callNotFound());
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
