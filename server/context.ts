import type { Queryable } from './database/queryable.js';
import type { Tx } from './database/transaction.js';

export const ROLES = ['member', 'steward', 'admin'] as const;
export type Role = (typeof ROLES)[number];

/** Who acts: read from the database with every request, never from the token. */
export interface Actor {
  readonly memberId: string;
  readonly displayName: string;
  readonly role: Role;
  /** True while the role is steward or admin and a sign-off for `stewarding` stands. */
  readonly stewards: boolean;
  readonly sessionIdHash: string;
}

/** Whether a member's sign-off for `stewarding` stands at an instant. */
export type StewardsAt = (db: Queryable, memberId: string, at: Date) => Promise<boolean>;

/** What every command is given: the acting member, the instant (never the clock), the transaction. */
export interface Ctx {
  readonly actor: Actor;
  readonly now: Date;
  readonly tx: Tx;
}
