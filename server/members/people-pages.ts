import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cursor, cutPage } from '../http/cursor.js';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { id } from '../http/id.js';
import { accept, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { text } from '../http/text.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { MEMBER_NOTICES } from '../words/en/members.js';
import type { PeopleCtx } from './acted-on.js';
import { changeRole } from './change-role.js';
import { endSuspension } from './end-suspension.js';
import { reasonForm, roleForm } from './form-fields.js';
import { handReset } from './hand-reset.js';
import { leave } from './leave.js';
import { linkAddress } from './link-address.js';
import { sendLink } from './link-sheet.js';
import { invitationsAfter } from './links.js';
import { invitationLines, memberActions, memberFacts, memberLines, suspensionLines } from './people-views.js';
import { may, mayAtAll, refusalUnless } from './permissions.js';
import { signOutMember } from './sign-out-member.js';
import { MEMBER_STATES, membersAfter } from './store.js';
import { suspend } from './suspend.js';
import { memberView } from './views.js';
import { withdrawInvitation } from './withdraw-invitation.js';

const LISTED_MAX = 100;

const listForm = z.object({
  search: text(254).nullable().catch(null),
  state: z.enum(MEMBER_STATES).nullable().catch(null),
  after: cursor.nullable().catch(null),
});

/** Members as stewards and admins see them: the list, one member's sheet, and what is done from it. */
export const peoplePages: FastifyPluginAsync<House> = async (pages, house) => {
  const { database, listeners, now } = house;

  pages.get('/members', async (request, reply) => showMembers(request, reply, house));

  pages.post('/members/invitations/:id/withdraw', async (request, reply) => {
    const actor = actorOf(request);
    const wanted = { id: idOf(request, 'invitation') };
    accept(
      await transact(database, (tx) =>
        withdrawInvitation({ actor, now: now(), tx, stewardsAt: house.stewardsAt }, wanted),
      ),
    );
    return reply.redirect('/members?just=withdrawn', 303);
  });

  pages.get('/members/:id', async (request, reply) => showMember(request, reply, house, {}));

  /** A button on a member's sheet: does it and comes back, or shows the sheet again with the reasons why not. */
  const button = <Given>(
    path: string,
    just: keyof typeof MEMBER_NOTICES,
    form: z.ZodType<Given>,
    command: (ctx: PeopleCtx, memberId: string, given: Given) => Promise<string | Refusal>,
  ) =>
    pages.post(`/members/:id/${path}`, async (request, reply) => {
      const actor = actorOf(request);
      const memberId = idOf(request, 'member');
      const { given, value, errors } = readForm(form, request.body);
      if (errors !== undefined) return showMember(request, reply.code(422), house, { given, errors });
      const outcome = await transact(database, (tx) =>
        command({ actor, now: now(), tx, stewardsAt: house.stewardsAt }, memberId, value),
      );
      if (!(outcome instanceof Refusal)) return reply.redirect(`/members/${memberId}?just=${just}`, 303);
      return showRefused(request, reply, house, given, outcome);
    });

  button('role', 'role', roleForm, (ctx, memberId, { role }) => changeRole(ctx, { memberId, role }));
  button('suspend', 'suspended', reasonForm, (ctx, memberId, { reason }) =>
    suspend(ctx, listeners, { memberId, reason }),
  );
  button('end-suspension', 'active', reasonForm, (ctx, memberId, { reason }) =>
    endSuspension(ctx, listeners, { memberId, reason }),
  );
  button('sign-out', 'signed-out', z.unknown(), (ctx, memberId) => signOutMember(ctx, { memberId }));
  button('leave', 'left', z.unknown(), (ctx, memberId) => leave(ctx, listeners, { memberId }));

  pages.get('/members/:id/leave', async (request, reply) => showLeave(request, reply, house));

  pages.post('/members/:id/reset-link', async (request, reply) => {
    const actor = actorOf(request);
    const memberId = idOf(request, 'member');
    const outcome = await transact(database, (tx) =>
      handReset({ actor, now: now(), tx, stewardsAt: house.stewardsAt }, { memberId }),
    );
    if (outcome instanceof Refusal) return showRefused(request, reply, house, {}, outcome);
    const { displayName } = accept(await memberView(database, actor, memberId));
    return sendLink(request, reply, house, {
      purpose: 'reset',
      displayName,
      link: linkAddress(request, house, outcome.path),
      expiresAt: outcome.expiresAt,
      back: `/members/${memberId}`,
    });
  });
};

function idOf(request: FastifyRequest, what: string): string {
  const parsed = id.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what } });
  return parsed.data;
}

/** The notice that the address asks for, where it is one of ours. */
function justDone(request: FastifyRequest) {
  const { just } = request.query as { readonly just?: keyof typeof MEMBER_NOTICES };
  return just !== undefined && Object.hasOwn(MEMBER_NOTICES, just) ? [MEMBER_NOTICES[just]] : [];
}

async function showMembers(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  if (!may(actor, 'member-see')) throw refused('not-found', { figures: { what: 'list of members' } });
  const asked = listForm.parse({ search: null, state: null, after: null, ...(request.query as object) });
  const [rows, invitations, timeZone] = await Promise.all([
    membersAfter(house.database, asked, asked.after, LISTED_MAX + 1),
    invitationsAfter(house.database, null, LISTED_MAX),
    house.timeZone(),
  ]);
  const page = cutPage(rows, LISTED_MAX, ({ createdAt, id: memberId }) => ({ at: createdAt, id: memberId }));
  const kept = { ...(asked.search && { search: asked.search }), ...(asked.state && { state: asked.state }) };
  return sendSheet(
    request,
    reply,
    house,
    'members/members',
    {
      title: 'Members',
      kicker: 'People',
      current: 'members',
      notices: justDone(request),
      titleBlock: [{ label: 'Sheet', value: 'Members' }],
    },
    {
      ...memberLines(page.items, asked, timeZone),
      ...(page.next !== null && { older: `/members?${new URLSearchParams({ ...kept, after: page.next })}` }),
      invitations: invitationLines(actor, invitations, house.now(), timeZone),
      mayInvite: mayAtAll(actor, 'member-invite'),
      mayImport: mayAtAll(actor, 'member-import'),
    },
  );
}

interface Shown {
  readonly given?: FieldErrors;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
}

/** What somebody may not see is not there; every other reason stands above the sheet. */
async function showRefused(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  given: FieldErrors,
  refusal: Refusal,
) {
  if (refusal.status === 401 || refusal.status === 404) accept<never>(refusal);
  const errorSummary = summaryOfRefusal(refusal);
  return showMember(request, reply.code(refusal.status), house, { given, errorSummary });
}

async function showMember(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const actor = actorOf(request);
  const member = accept(await memberView(house.database, actor, idOf(request, 'member')));
  const timeZone = await house.timeZone();
  const { given = {}, errors = {} } = shown;
  const hasErrors = Object.keys(errors).length > 0;
  const errorSummary = shown.errorSummary ?? (hasErrors ? summaryOfErrors(errors) : undefined);
  return sendSheet(
    request,
    reply,
    house,
    'members/member',
    {
      title: member.displayName,
      kicker: 'Member',
      notices: justDone(request),
      ...(errorSummary && { errorSummary }),
      titleBlock: [{ label: 'Sheet', value: `Member ${member.id.slice(0, 8)}` }],
    },
    {
      memberId: member.id,
      facts: memberFacts(member, timeZone),
      ...memberActions(actor, member),
      suspensions: suspensionLines(member, timeZone),
      reason: given.reason ?? '',
      errors,
    },
  );
}

/** Asks once more before a person is forgotten. */
async function showLeave(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  const member = accept(await memberView(house.database, actor, idOf(request, 'member')));
  const forbidden = refusalUnless(actor, 'member-leave', { ownerId: member.id });
  if (forbidden !== undefined) accept<never>(forbidden);
  if (member.state === 'left') throw refused('member-left');
  return sendSheet(
    request,
    reply,
    house,
    'members/let-go',
    { title: `Close the account of ${member.displayName}?`, kicker: 'Member' },
    { memberId: member.id, facts: memberFacts(member, await house.timeZone()) },
  );
}
