import fastifySwagger from '@fastify/swagger';
import type { FastifyInstance } from 'fastify';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { API_PREFIX } from './api.js';

/** Collects every `/api/v1` route into an OpenAPI 3.1 document, from the schemas that validate. */
export async function registerOpenApi(app: FastifyInstance): Promise<void> {
  await app.register(fastifySwagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Platenshare',
        description:
          'Plates checked before metal is cut, press time booked. Errors are problem documents (RFC 9457); ' +
          'instants are ISO 8601 with offset; a unit ends each name; ids are opaque. ' +
          'The service advises: the machine’s manual, local codes and a competent person come first.',
        version: '1.0.0',
        license: { name: 'MIT', identifier: 'MIT' },
      },
      servers: [{ url: '/' }],
      components: {
        securitySchemes: { bearer: { type: 'http', scheme: 'bearer', bearerFormat: 'JWT' } },
      },
      tags: [],
    },
    transform: (given) => {
      if (!given.url.startsWith(`${API_PREFIX}/`)) return { schema: { hide: true }, url: given.url };
      const { schema, url } = jsonSchemaTransform(given);
      const open = given.route.config?.open === true;
      return { schema: { ...schema, security: open ? [{}, { bearer: [] }] : [{ bearer: [] }] }, url };
    },
    transformObject: jsonSchemaTransformObject,
  });
}
