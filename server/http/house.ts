import type { Actor, StewardsAt } from '../context.js';
import type { Database } from '../database/database.js';
import type { Listeners } from '../listeners.js';
import type { Settings } from '../settings.js';
import type { SheetCounts } from '../views.js';

/** What every room is given when it is plugged in. */
export interface House {
  readonly settings: Settings;
  readonly database: Database;
  /** The only clock there is; tests turn it. */
  readonly now: () => Date;
  /** Who must know, in the same transaction, when something changes in an earlier room. */
  readonly listeners: Listeners;
  /** Whether a member stewards; the rooms before the inductions are given it, for they do not know those. */
  readonly stewardsAt: StewardsAt;
  /** The makerspace's name, for the head of every sheet. */
  readonly place: () => Promise<string>;
  /** The shop's own time zone. */
  readonly timeZone: () => Promise<string>;
  /** What waits for a member, as the head of every sheet counts it. */
  readonly counts: (actor: Actor) => Promise<SheetCounts>;
}
