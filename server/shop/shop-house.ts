import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import type { House } from '../http/house.js';
import type { AboveQuota } from './above-quota.js';
import type { BookingInTheWay, Foreseen, RulesProposed } from './foreseen.js';
import type { Span } from './opening-hours.js';
import type { ShopRules } from './rules.js';

/** What the rules' room asks of later rooms, which it does not know. */
export interface ShopHouse extends House {
  /** What a change of the rules would do to what stands; computed outside any transaction. */
  readonly foresee: (proposed: RulesProposed, actor: Actor) => Promise<Foreseen>;
  /** Who holds more press time from an instant on than these rules' quotas give. */
  readonly aboveQuota: (db: Queryable, rules: ShopRules, from: Date) => Promise<readonly AboveQuota[]>;
  /** Bookings that stand in a span, soonest first. */
  readonly bookingsIn: (db: Queryable, span: Span) => Promise<readonly BookingInTheWay[]>;
}
