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
      components: { securitySchemes: { bearer: { type: 'http', scheme: 'bearer', bearerFormat: 'JWT' } } },
    },
    transform: (given) => {
      if (!given.url.startsWith(`${API_PREFIX}/`)) return { schema: { hide: true }, url: given.url };
      const { schema, url } = jsonSchemaTransform(given);
      const open = given.route.config?.open === true;
      return { schema: { ...schema, security: open ? [{}, { bearer: [] }] : [{ bearer: [] }] }, url };
    },
    transformObject: (given) => tidied(jsonSchemaTransformObject(given)),
  });
}

/** Leaves out what nobody refers to, and what Zod says about every integer and instant there is. */
function tidied<Document extends object>(document: Document): Document {
  const plain = JSON.parse(JSON.stringify(document, withoutNoise)) as Document;
  const { components } = plain as { components?: { schemas?: Record<string, unknown> } };
  const schemas = components?.schemas ?? {};
  const wanted = referredTo(schemas, JSON.stringify({ ...plain, components: {} }));
  for (const name of Object.keys(schemas)) if (!wanted.has(name)) delete schemas[name];
  return plain;
}

function withoutNoise(this: unknown, name: string, value: unknown): unknown {
  if (name === 'pattern' && (this as { format?: unknown }).format === 'date-time') return undefined;
  const isBound = name === 'minimum' || name === 'maximum';
  return isBound && Math.abs(Number(value)) === Number.MAX_SAFE_INTEGER ? undefined : value;
}

function referredTo(schemas: Record<string, unknown>, text: string, found = new Set<string>()): Set<string> {
  for (const [, name = ''] of text.matchAll(/"#\/components\/schemas\/([^"]+)"/g)) {
    if (found.has(name)) continue;
    found.add(name);
    referredTo(schemas, JSON.stringify(schemas[name] ?? {}), found);
  }
  return found;
}
