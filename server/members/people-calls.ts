import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cutPage } from '../http/cursor.js';
import type { House } from '../http/house.js';
import { idParams } from '../http/id.js';
import { accept, refused } from '../http/refused.js';
import type { Refusal } from '../reasons.js';
import type { PeopleCtx } from './acted-on.js';
import { changeRole } from './change-role.js';
import { endSuspension } from './end-suspension.js';
import { handReset } from './hand-reset.js';
import { leave } from './leave.js';
import { linkAddress } from './link-address.js';
import { may } from './permissions.js';
import { memberReply, membersQuery, membersReply, reasonBody, resetReply, roleBody } from './schemas.js';
import { signOutMember } from './sign-out-member.js';
import { membersAfter } from './store.js';
import { suspend } from './suspend.js';
import { listedView, memberAfter, memberView } from './views.js';

const tags = ['members'];

/** Members as stewards and admins see them, and what they do to them. */
export const peopleRoutes: FastifyPluginAsyncZod<House> = async (api, house) => {
  const { database, listeners } = house;
  const response = { 200: memberReply };

  /** Does it in a transaction and answers with the member as they are then. */
  const changed = async (
    ctx: Pick<PeopleCtx, 'actor'>,
    work: (ctx: PeopleCtx) => Promise<string | Refusal>,
  ) =>
    accept(
      await transact(database, async (tx) => {
        const whole = { ...ctx, now: house.now(), tx, stewardsAt: house.stewardsAt };
        return memberAfter(whole, await work(whole));
      }),
    );

  api.get(
    '/members',
    {
      schema: {
        summary: 'Members, newest first',
        tags,
        querystring: membersQuery,
        response: { 200: membersReply },
      },
    },
    async (request) => {
      if (!may(actorOf(request), 'member-see'))
        throw refused('not-found', { figures: { what: 'list of members' } });
      const { cursor = null, limit, state = null, search = null } = request.query;
      const rows = await membersAfter(database, { state, search }, cursor, limit + 1);
      const page = cutPage(rows, limit, ({ createdAt, id }) => ({ at: createdAt, id }));
      return { ...page, items: page.items.map(listedView) };
    },
  );

  api.get(
    '/members/:id',
    { schema: { summary: 'A member: oneself, or as a steward anybody', tags, params: idParams, response } },
    async (request) => accept(await memberView(database, actorOf(request), request.params.id)),
  );

  api.put(
    '/members/:id/role',
    {
      schema: {
        summary: 'Give a member another role; ends their sessions',
        tags,
        params: idParams,
        body: roleBody,
        response,
      },
    },
    async (request) =>
      changed({ actor: actorOf(request) }, (ctx) =>
        changeRole(ctx, { memberId: request.params.id, role: request.body.role }),
      ),
  );

  api.post(
    '/members/:id/suspension',
    {
      schema: {
        summary: 'Suspend a member: every session ends, none begins',
        tags,
        params: idParams,
        body: reasonBody,
        response,
      },
    },
    async (request) =>
      changed({ actor: actorOf(request) }, (ctx) =>
        suspend(ctx, listeners, { memberId: request.params.id, reason: request.body.reason }),
      ),
  );

  api.delete(
    '/members/:id/suspension',
    { schema: { summary: 'End a suspension', tags, params: idParams, body: reasonBody, response } },
    async (request) =>
      changed({ actor: actorOf(request) }, (ctx) =>
        endSuspension(ctx, listeners, { memberId: request.params.id, reason: request.body.reason }),
      ),
  );

  api.delete(
    '/members/:id/sessions',
    { schema: { summary: 'End every session of a member', tags, params: idParams, response } },
    async (request) =>
      changed({ actor: actorOf(request) }, (ctx) => signOutMember(ctx, { memberId: request.params.id })),
  );

  api.post(
    '/members/:id/leaving',
    {
      schema: {
        summary: 'Record that a member left: name, address and password are forgotten, what they did stays',
        tags,
        params: idParams,
        response,
      },
    },
    async (request) =>
      changed({ actor: actorOf(request) }, (ctx) => leave(ctx, listeners, { memberId: request.params.id })),
  );

  api.post(
    '/members/:id/password-reset',
    {
      schema: {
        summary: 'Make a link by which a member sets a new password; an earlier one works no more',
        tags,
        params: idParams,
        response: { 201: resetReply },
      },
    },
    async (request, reply) => {
      const actor = actorOf(request);
      const { path, expiresAt } = accept(
        await transact(database, (tx) =>
          handReset(
            { actor, now: house.now(), tx, stewardsAt: house.stewardsAt },
            { memberId: request.params.id },
          ),
        ),
      );
      return reply.code(201).send({ link: linkAddress(request, house, path), expiresAt });
    },
  );
};
