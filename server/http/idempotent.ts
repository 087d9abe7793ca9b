import { createHash } from 'node:crypto';
import { z } from 'zod';
import type { Actor, Ctx } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { Refusal, refuse } from '../reasons.js';
import { text } from './text.js';

/** Header of a changing POST; the other headers pass. */
export const idempotencyHeaders = z.looseObject({
  'idempotency-key': text(200).optional().meta({
    description: 'The same key with the same body is done once and answered alike. Kept for two days.',
  }),
});

export interface Asked<Reply extends z.ZodType> {
  /** Method and pattern: a key means something only within its route. */
  readonly route: string;
  readonly key: string | undefined;
  /** All that the outcome depends on: body and path. */
  readonly body: unknown;
  /** Schema of the reply, by which it is kept and given again. */
  readonly reply: Reply;
  readonly status?: number;
}

/** Answers kept for the actor, route and key of `asked`, if it was done before. */
export async function answerKept<Reply extends z.ZodType>(
  db: Queryable,
  { memberId }: Pick<Actor, 'memberId'>,
  { route, key, body, reply }: Asked<Reply>,
): Promise<z.output<Reply> | Refusal | undefined> {
  if (key === undefined) return undefined;
  const [kept] = await db.query<{ body_hash: string; reply: unknown }>(
    'select body_hash, reply from idempotency_key where actor_id = $1 and route = $2 and key = $3',
    [memberId, route, key],
  );
  if (kept === undefined) return undefined;
  if (kept.body_hash !== hashOf(body)) return refuse('idempotency-key-reused', { field: 'Idempotency-Key' });
  // Whoever it named has left; `forgetMember` took the answer, and that it was done stays.
  if (kept.reply === null) return refuse('answer-forgotten', { field: 'Idempotency-Key' });
  return z.decode(reply, kept.reply as z.input<Reply>);
}

/**
 * Does `work` once for an actor, route and key, in the transaction of `ctx`: what changed and the kept answer
 * stand together. A second request waits for the first to commit, then gets its answer. A refusal rolls back
 * and is not kept.
 */
export async function idempotent<Reply extends z.ZodType>(
  ctx: Ctx,
  asked: Asked<Reply>,
  work: () => Promise<z.output<Reply> | Refusal>,
): Promise<z.output<Reply> | Refusal> {
  const { route, key, body, reply, status = 201 } = asked;
  if (key === undefined) return work();
  const { tx, actor, now } = ctx;
  const owner = [actor.memberId, route, key] as const;
  await tx.query('select pg_advisory_xact_lock(hashtextextended($1, 0))', [owner.join(' ')]);
  const kept = await answerKept(tx, actor, asked);
  if (kept !== undefined) return kept;
  const result = await work();
  if (result instanceof Refusal) return result;
  await tx.query(
    `insert into idempotency_key (actor_id, route, key, body_hash, status, reply, created_at)
     values ($1, $2, $3, $4, $5, $6, $7)`,
    [...owner, hashOf(body), status, JSON.stringify(z.encode(reply, result)), now],
  );
  return result;
}

/** A hash of a parsed body that does not depend on the order of its members. */
function hashOf(body: unknown): string {
  return createHash('sha256').update(ordered(body)).digest('hex');
}

function ordered(value: unknown): string {
  if (value instanceof Date) return value.toISOString();
  if (value instanceof Uint8Array) return createHash('sha256').update(value).digest('hex');
  if (Array.isArray(value)) return `[${value.map(ordered).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'undefined';
  const members = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${members.map(([name, member]) => `${JSON.stringify(name)}:${ordered(member)}`).join(',')}}`;
}
