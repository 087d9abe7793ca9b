import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { actorOf } from '../http/acting.js';
import type { House } from '../http/house.js';
import { addressOf } from '../http/rate-limit.js';
import { accept, refused } from '../http/refused.js';
import { accountRoutes } from './account-calls.js';
import { invitationRoutes } from './invitation-calls.js';
import { peopleRoutes } from './people-calls.js';
import { me, type OwnMore, signedIn, signInBody } from './schemas.js';
import { signIn } from './sign-in.js';
import { signOut } from './sign-out.js';
import { type Member, memberById } from './store.js';

export interface MembersHouse extends House {
  readonly ownMore: (memberId: string) => Promise<OwnMore>;
}

/** Signing in and out, and who one is. */
export const memberRoutes: FastifyPluginAsyncZod<MembersHouse> = async (api, house) => {
  api.post(
    '/session',
    {
      config: { open: true },
      schema: { summary: 'Sign in', tags: ['members'], body: signInBody, response: { 201: signedIn } },
    },
    async (request, reply) => {
      const address = addressOf(request);
      const { token, session, member } = accept(await signIn(api, house, { ...request.body, address }));
      return reply.code(201).send({ token, expiresAt: session.expiresAt, member: ownView(member) });
    },
  );

  api.delete(
    '/session',
    {
      schema: {
        summary: 'Sign out: ends this session',
        tags: ['members'],
        response: { 204: z.void().meta({ description: 'Signed out.' }) },
      },
    },
    async (request, reply) => {
      await signOut(house, actorOf(request));
      return reply.code(204).send();
    },
  );

  api.get(
    '/me',
    { schema: { summary: 'Own member, sign-offs, quota', tags: ['members'], response: { 200: me } } },
    async (request) => {
      const member = await memberById(house.database, actorOf(request).memberId);
      if (member === undefined) throw refused('session-ended');
      return { member: ownView(member), ...(await house.ownMore(member.id)) };
    },
  );

  await accountRoutes(api, house);
  await peopleRoutes(api, house);
  await invitationRoutes(api, house);
};

function ownView({ id, email, displayName, role }: Member) {
  return { id, email, displayName, role };
}
