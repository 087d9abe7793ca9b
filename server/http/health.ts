import type { FastifyInstance } from 'fastify';
import type { House } from './house.js';

/** For whoever watches the service: `live` while the process answers, `ready` while the database does too. */
export function answerHealth(app: FastifyInstance, { database }: House): void {
  const open = { config: { open: true } };
  app.get('/health/live', open, async (_request, reply) =>
    reply.header('cache-control', 'no-store').send({ live: true }),
  );
  app.get('/health/ready', open, async (request, reply) => {
    reply.header('cache-control', 'no-store');
    try {
      await database.query('select 1');
      return { ready: true };
    } catch (error) {
      request.log.error({ err: error }, 'the database does not answer');
      return reply.code(503).send({ ready: false });
    }
  });
}
