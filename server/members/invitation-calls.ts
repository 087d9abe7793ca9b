import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cutPage } from '../http/cursor.js';
import type { House } from '../http/house.js';
import { idParams } from '../http/id.js';
import { limitSignedOut } from '../http/rate-limit.js';
import { accept, refused } from '../http/refused.js';
import { acceptInvitation } from './accept-invitation.js';
import { importMembers, lookAtTable } from './import-members.js';
import { invite } from './invite.js';
import { linkAddress } from './link-address.js';
import { invitationsAfter } from './links.js';
import { TABLE_BYTES_MAX } from './member-table.js';
import { mayAtAll } from './permissions.js';
import {
  acceptBody,
  acceptedReply,
  importBody,
  importReply,
  invitationBody,
  invitationsReply,
  invitedReply,
  pageOnlyQuery,
} from './schemas.js';
import { toldFault } from './told-fault.js';
import { withdrawInvitation } from './withdraw-invitation.js';

const tags = ['members'];

/** Invitations: handed over by stewards and admins, used by who was invited. */
export const invitationRoutes: FastifyPluginAsyncZod<House> = async (api, house) => {
  const { database } = house;

  api.get(
    '/invitations',
    {
      schema: {
        summary: 'Invitations that nobody has come by yet, newest first',
        tags,
        querystring: pageOnlyQuery,
        response: { 200: invitationsReply },
      },
    },
    async (request) => {
      if (!mayAtAll(actorOf(request), 'member-invite')) {
        throw refused('not-found', { figures: { what: 'list of invitations' } });
      }
      const { cursor = null, limit } = request.query;
      const rows = await invitationsAfter(database, cursor, limit + 1);
      return cutPage(rows, limit, ({ createdAt, id }) => ({ at: createdAt, id }));
    },
  );

  api.post(
    '/invitations',
    {
      schema: {
        summary: 'Invite somebody; an earlier invitation of the same address works no more',
        tags,
        body: invitationBody,
        response: { 201: invitedReply },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { path, ...invited } = accept(
        await transact(database, (tx) =>
          invite({ actor, now: house.now(), tx, stewardsAt: house.stewardsAt }, request.body),
        ),
      );
      return reply.code(201).send({ ...invited, link: linkAddress(request, house, path) });
    },
  );

  api.post(
    '/invitations/import',
    {
      bodyLimit: 2 * TABLE_BYTES_MAX,
      schema: {
        summary: 'Invite many from a table; lines that cannot be are told and left out',
        tags,
        body: importBody,
        response: { 200: importReply },
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const bytes = Buffer.from(request.body.csv);
      if (request.body.dryRun) {
        const { lines, faults } = accept(await lookAtTable(database, actor, bytes));
        return { invited: [], wouldInvite: lines.length, leftOut: faults.map(toldFault) };
      }
      const { invited, faults } = accept(
        await transact(database, (tx) =>
          importMembers({ actor, now: house.now(), tx, stewardsAt: house.stewardsAt }, bytes),
        ),
      );
      return {
        invited: invited.map(({ path, ...line }) => ({ ...line, link: linkAddress(request, house, path) })),
        wouldInvite: invited.length,
        leftOut: faults.map(toldFault),
      };
    },
  );

  api.delete(
    '/invitations/:id',
    {
      schema: {
        summary: 'Withdraw an invitation that nobody has come by yet',
        tags,
        params: idParams,
        response: { 204: z.void().meta({ description: 'Withdrawn; its link works no more.' }) },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const wanted = { id: request.params.id };
      accept(
        await transact(database, (tx) =>
          withdrawInvitation({ actor, now: house.now(), tx, stewardsAt: house.stewardsAt }, wanted),
        ),
      );
      return reply.code(204).send();
    },
  );

  api.post(
    '/invitations/use',
    {
      config: { open: true },
      onRequest: limitSignedOut(house),
      schema: {
        summary: 'Become a member by the link of an invitation',
        tags,
        body: acceptBody,
        response: { 201: acceptedReply },
      },
    },
    async (request, reply) => {
      const { memberId, email } = accept(await acceptInvitation(house, request.body));
      return reply.code(201).send({ id: memberId, email });
    },
  );
};
