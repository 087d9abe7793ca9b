import type { FastifyInstance, FastifyRequest, FastifySchema } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { wordIssue } from '../words/en/issues.js';
import { refusalToAnswer, refusalWithoutRoute } from './answer-errors.js';
import { problem, sendProblem } from './problem.js';
import { refused } from './refused.js';

export const API_PREFIX = '/api/v1';

// A field's fault is told in our words wherever its schema has none of its own.
z.config({ customError: wordIssue });

/** Makes a scope the REST world: Zod reads and writes, everything refused is a problem document. */
export function speakApi(api: FastifyInstance): void {
  api.setValidatorCompiler(validatorCompiler);
  api.setSerializerCompiler(serializerCompiler);
  api.setErrorHandler((error, request, reply) => sendProblem(reply, refusalToAnswer(error, request)));
  api.setNotFoundHandler((request, reply) => sendProblem(reply, refusalWithoutRoute(request, reply)));
  readJsonOnly(api);
  api.addHook('onRequest', noFormWhereNoneIsTaken);
  api.addHook('onSend', async (_request, reply) => {
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store');
  });
  api.addHook('onRoute', (route) => {
    const schema = route.schema ?? {};
    const open = route.config?.open === true;
    const problems = declaredProblems(schema, [route.method].flat(), route.url, open);
    route.schema = { ...schema, response: { ...problems, ...(schema.response as object) } };
  });
}

/** JSON, and multipart where a route takes a file: no body that a plain form on another site could send. */
function readJsonOnly(api: FastifyInstance): void {
  const parse = api.getDefaultJsonParser('error', 'error');
  api.removeContentTypeParser(['application/json', 'text/plain', 'application/x-www-form-urlencoded']);
  api.addContentTypeParser('application/json', { parseAs: 'string' }, (request, body, done) => {
    // A client that always says "JSON" may send nothing at all with a DELETE.
    if (body === '') done(null, undefined);
    else parse(request, body as string, done);
  });
}

/** @throws Refused for a multipart body where the route does not say that it takes one */
async function noFormWhereNoneIsTaken(request: FastifyRequest): Promise<void> {
  if (request.is404 || request.headers['content-type']?.startsWith('multipart/') !== true) return;
  const takes: readonly string[] = request.routeOptions.schema?.consumes ?? [];
  if (!takes.includes('multipart/form-data')) throw refused('media-type-unsupported');
}

/** The refusals that a route can answer with by its nature; a route adds none itself. */
function declaredProblems(schema: FastifySchema, methods: readonly string[], url: string, open: boolean) {
  const changes = methods.some((method) => method !== 'GET' && method !== 'HEAD');
  const statuses = [
    400,
    // What somebody may not see is not there.
    ...(open ? [] : [401, 403, 404]),
    ...(url.includes(':') || schema.body !== undefined ? [404] : []),
    ...(changes ? [401, 403, 409, 413, 415, 422, 429] : []),
    500,
    503,
  ];
  return Object.fromEntries(statuses.map((status) => [status, PROBLEM_RESPONSE]));
}

const PROBLEM_RESPONSE = {
  description: 'Refused, with reasons.',
  content: { 'application/problem+json': { schema: problem } },
};
