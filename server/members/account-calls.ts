import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import type { House } from '../http/house.js';
import { limitSignedOut } from '../http/rate-limit.js';
import { accept } from '../http/refused.js';
import { changePassword } from './change-password.js';
import { leaveMyself } from './leave-myself.js';
import { rename } from './rename.js';
import { resetPassword } from './reset-password.js';
import { changePasswordBody, leaveBody, memberReply, renameBody, resetBody } from './schemas.js';
import { memberAfter } from './views.js';

const tags = ['members'];

/** What members change about themselves. */
export const accountRoutes: FastifyPluginAsyncZod<House> = async (api, house) => {
  api.patch(
    '/me',
    {
      schema: {
        summary: 'Change the name that others see',
        tags,
        body: renameBody,
        response: { 200: memberReply },
      },
    },
    async (request) =>
      accept(
        await transact(house.database, async (tx) => {
          const ctx = { actor: actorOf(request), now: house.now(), tx, stewardsAt: house.stewardsAt };
          return memberAfter(ctx, await rename(ctx, request.body));
        }),
      ),
  );

  api.post(
    '/me/password',
    {
      schema: {
        summary: 'Change the own password, giving the one there is; ends all other sessions',
        tags,
        body: changePasswordBody,
        response: { 204: z.void().meta({ description: 'Changed.' }) },
      },
    },
    async (request, reply) => {
      accept(await changePassword(house, actorOf(request), request.body));
      return reply.code(204).send();
    },
  );

  api.post(
    '/me/leaving',
    {
      schema: {
        summary: 'Leave for good, giving the password: name, address and password are forgotten',
        tags,
        body: leaveBody,
        response: { 204: z.void().meta({ description: 'Gone; every session has ended.' }) },
      },
    },
    async (request, reply) => {
      accept(await leaveMyself(house, actorOf(request), request.body.password));
      return reply.code(204).send();
    },
  );

  api.post(
    '/password-resets/use',
    {
      config: { open: true },
      onRequest: limitSignedOut(house),
      schema: {
        summary: 'Set a new password by a link that was handed over; ends all sessions',
        tags,
        body: resetBody,
        response: { 204: z.void().meta({ description: 'Set; sign in with it.' }) },
      },
    },
    async (request, reply) => {
      accept(await resetPassword(house, request.body));
      return reply.code(204).send();
    },
  );
};
