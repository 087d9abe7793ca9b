import { recordAudit } from '../audit/record-audit.js';
import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { Refusal } from '../reasons.js';
import { actorHeld, type PeopleCtx } from './acted-on.js';
import { insertInvitations } from './links.js';
import { type MemberTable, readMemberTable, type TableLine } from './member-table.js';
import { newLink } from './one-time-link.js';
import { refusalUnless } from './permissions.js';
import { replaceInvitations } from './replace-invitations.js';
import { emailsTaken } from './store.js';

export interface LineInvited extends TableLine {
  readonly path: string;
  readonly expiresAt: Date;
}

export interface MembersImported extends Pick<MemberTable, 'faults'> {
  readonly invited: readonly LineInvited[];
}

/** What a table would do: who can be invited, and every line that is left out. Nothing is written. */
export async function lookAtTable(
  db: Queryable,
  actor: Actor,
  bytes: Uint8Array,
): Promise<MemberTable | Refusal> {
  const forbidden = refusalUnless(actor, 'member-import', {});
  if (forbidden !== undefined) return forbidden;
  const table = readMemberTable(bytes);
  if (table instanceof Refusal) return table;
  const taken = await emailsTaken(
    db,
    table.lines.map(({ email }) => email),
  );
  const already = table.lines.filter(({ email }) => taken.has(email));
  const faults = already.map(({ line, email }) => ({ line, code: 'member-already' as const, given: email }));
  return {
    lines: table.lines.filter(({ email }) => !taken.has(email)),
    faults: [...table.faults, ...faults].sort((a, b) => a.line - b.line),
  };
}

/** Invites everybody in a table who can be; the lines left out come back with their faults. */
export async function importMembers(ctx: PeopleCtx, bytes: Uint8Array): Promise<MembersImported | Refusal> {
  const { now, tx } = ctx;
  const actor = await actorHeld(ctx);
  if (actor instanceof Refusal) return actor;
  const table = await lookAtTable(tx, actor, bytes);
  if (table instanceof Refusal) return table;
  const invited = table.lines.map((line) => ({ ...line, ...newLink('invitation', now) }));
  if (invited.length > 0) {
    const emails = invited.map(({ email }) => email);
    const kept = await replaceInvitations({ actor, now, tx }, emails);
    if (kept !== undefined) return kept;
    const ids = await insertInvitations(tx, invited, { by: actor.memberId, at: now });
    if (ids instanceof Refusal) return ids;
    await recordAudit(tx, {
      at: now,
      actorId: actor.memberId,
      action: 'members-imported',
      subjectKind: 'installation',
      subjectId: 'this',
      details: { count: invited.length },
    });
  }
  return { invited: invited.map(({ tokenHash: _, ...line }) => line), faults: table.faults };
}
