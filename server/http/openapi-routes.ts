import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';

/** The description of the API, made once from the schemas that validate. */
export const openApiRoutes: FastifyPluginAsyncZod = async (api) => {
  let document: string | undefined;
  api.get(
    '/openapi.json',
    {
      config: { open: true },
      schema: {
        summary: 'This description, OpenAPI 3.1',
        tags: ['description'],
        response: { 200: z.looseObject({ openapi: z.string() }) },
      },
    },
    async (_request, reply) => {
      document ??= JSON.stringify(api.swagger());
      reply.type('application/json; charset=utf-8').header('cache-control', 'public, max-age=300');
      return reply.send(document as unknown as { openapi: string });
    },
  );
};
