import { isIPv6 } from 'node:net';
import type { FastifyRequest } from 'fastify';
import type { Queryable } from '../database/queryable.js';
import type { Asker } from './asker.js';
import type { House } from './house.js';
import { refused } from './refused.js';

const MINUTE_MS = 60_000;

/** At most `limit` in the last `minutes`, counted under `bucket`. */
export interface Limit {
  readonly bucket: string;
  readonly limit: number;
  readonly minutes: number;
}

/**
 * Counts one, unless that would be over the limit, in a single statement: where several processes ask at once,
 * the row's lock decides. Minutes are counted apart, so that the window slides and what was refused is not
 * held against anybody.
 *
 * @returns undefined when counted, else the seconds to wait
 */
export async function countOne(
  db: Queryable,
  { bucket, limit, minutes }: Limit,
  now: Date,
): Promise<number | undefined> {
  const minute = new Date(Math.floor(now.getTime() / MINUTE_MS) * MINUTE_MS);
  const from = new Date(minute.getTime() - (minutes - 1) * MINUTE_MS);
  const counted = await db.query(
    `with earlier as (
       select coalesce(sum(hits), 0)::int as hits from rate_count
       where bucket = $1 and window_start >= $2 and window_start < $3)
     insert into rate_count (bucket, window_start, hits)
     select $1, $3, 1 from earlier where hits < $4
     on conflict (bucket, window_start) do update set hits = rate_count.hits + 1
       where rate_count.hits + (select hits from earlier) < $4
     returning hits`,
    [bucket, from, minute, limit],
  );
  if (counted.length > 0) return undefined;
  const [oldest] = await db.query<{ at: Date | null }>(
    'select min(window_start) as at from rate_count where bucket = $1 and window_start >= $2',
    [bucket, from],
  );
  const freeAt = (oldest?.at ?? minute).getTime() + minutes * MINUTE_MS;
  return Math.max(1, Math.ceil((freeAt - now.getTime()) / 1000));
}

/** Counts what has been done already, over the limit too. */
async function countMore(db: Queryable, bucket: string, hits: number, now: Date): Promise<void> {
  const minute = new Date(Math.floor(now.getTime() / MINUTE_MS) * MINUTE_MS);
  await db.query(
    `insert into rate_count (bucket, window_start, hits) values ($1, $2, $3)
     on conflict (bucket, window_start) do update set hits = rate_count.hits + excluded.hits`,
    [bucket, minute, hits],
  );
}

/** Forgets what was counted under a bucket. */
export async function forgetCount(db: Queryable, bucket: string): Promise<void> {
  await db.query('delete from rate_count where bucket = $1', [bucket]);
}

/**
 * Who is counted as one address: an IPv6 customer is usually given a whole /64 (RFC 6177), so its first half.
 */
export function addressOf(request: FastifyRequest): string {
  return isIPv6(request.ip) && !request.ip.startsWith('::ffff:') ? firstHalf(request.ip) : request.ip;
}

function firstHalf(address: string): string {
  const [head = '', tail] = address.split('::');
  const left = head === '' ? [] : head.split(':');
  const right = tail === undefined || tail === '' ? [] : tail.split(':');
  const zeros = tail === undefined ? [] : Array<string>(8 - left.length - right.length).fill('0');
  return `${[...left, ...zeros, ...right].slice(0, 4).join(':')}::/64`;
}

/**
 * An `onRequest` hook for what strangers may do as well: members are not counted.
 *
 * @throws Refused with the seconds to wait
 */
export function limitSignedOut({ settings, database, now }: House) {
  return async (request: FastifyRequest): Promise<void> => {
    if (!settings.rateLimits || request.actor !== undefined) return;
    const waitSeconds = await countOne(
      database,
      { bucket: signedOutBucket(addressOf(request)), limit: settings.signedOutChecksPerMinute, minutes: 1 },
      now(),
    );
    if (waitSeconds !== undefined) {
      throw refused('too-many-requests', { figures: { retryAfterSeconds: waitSeconds } });
    }
  };
}

/** A stranger's drawing counts once more for every quarter second that it is worked on. */
const MS_A_HIT = 250;

/** Counts long work against the limit of the stranger it was done for. */
export function chargeStrangers({ settings, database, now }: House) {
  return async ({ member, name }: Asker, tookMs: number): Promise<void> => {
    const hits = Math.floor(tookMs / MS_A_HIT);
    if (hits > 0 && settings.rateLimits && !member) {
      await countMore(database, signedOutBucket(name), hits, now());
    }
  };
}

function signedOutBucket(address: string): string {
  return `signed-out ${address}`;
}
