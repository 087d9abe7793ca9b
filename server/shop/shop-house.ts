import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import type { House } from '../http/house.js';
import type { BookingInTheWay, Foreseen, RulesProposed } from './foreseen.js';
import type { Span } from './opening-hours.js';

/** What the rules' room asks of later rooms, which it does not know. */
export interface ShopHouse extends House {
  /** What a change of the rules would do to what stands; computed outside any transaction. */
  readonly foresee: (proposed: RulesProposed, actor: Actor) => Promise<Foreseen>;
  /** Bookings that stand in a span, soonest first. */
  readonly bookingsIn: (db: Queryable, span: Span) => Promise<readonly BookingInTheWay[]>;
}
