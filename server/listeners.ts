import type { Tx } from './database/transaction.js';
import type { Foreseen } from './shop/foreseen.js';

/** A member's sign-off stands no longer: it was revoked, or its interval is over. */
export interface SignOffEnded {
  readonly memberId: string;
  readonly competence: string;
  readonly at: Date;
  /** Who ended it; null when it lapsed by itself. */
  readonly actorId: string | null;
}

/** A member was signed off, or signed off anew. */
export interface SignOffGiven {
  readonly memberId: string;
  readonly competence: string;
  readonly at: Date;
  readonly actorId: string;
}

/** A member can no longer do anything here, until the suspension ends. */
export interface MemberSuspended {
  readonly memberId: string;
  readonly at: Date;
  readonly actorId: string;
}

/** A member may do again what they may. */
export interface SuspensionEnded {
  readonly memberId: string;
  readonly at: Date;
  readonly actorId: string;
}

/** A member has gone for good; who they were is forgotten, what they did stays. */
export interface MemberLeft {
  readonly memberId: string;
  /** Under which others knew them, for words that were typed by hand. */
  readonly nameBefore: string;
  readonly at: Date;
  readonly actorId: string;
}

/** The makerspace was founded by its first admin. */
export interface Founded {
  readonly memberId: string;
  readonly at: Date;
}

/** A version of the shop rules was added. */
export interface RulesChanged {
  readonly version: number;
  /** The rules, and what was foreseen of them outside the transaction: reports take too long inside it. */
  readonly foreseen: Foreseen;
  readonly validFrom: Date;
  /** When the next version takes over, as known now; null when none does. */
  readonly validUntil: Date | null;
  readonly at: Date;
  readonly actorId: string;
}

/** A plate has a new revision: what stood of the one before no longer counts. */
export interface PlateRevised {
  readonly plateId: string;
  /** The new one. */
  readonly revision: number;
  readonly at: Date;
  readonly actorId: string;
}

/** A plate's owner lets others do more or less with it, or it has another owner. */
export interface SharingChanged {
  readonly plateId: string;
  readonly sharing: 'nobody' | 'see' | 'run';
  readonly at: Date;
  readonly actorId: string;
}

/** A plate was retired, or taken up again. */
export interface PlateRetired {
  readonly plateId: string;
  readonly retired: boolean;
  readonly at: Date;
  readonly actorId: string;
}

/** What stands of a plate's clearance has changed: a step was cleared, refused, voided, or its metal reworked. */
export interface ClearanceChanged {
  readonly plateId: string;
  readonly revision: number;
  readonly bolsterId: string;
  readonly at: Date;
  readonly actorId: string;
}

/** A bolster has another version: what was cleared on the one before stands no longer. */
export interface BolsterRevised {
  readonly bolsterId: string;
  readonly name: string;
  /** The new one. */
  readonly version: number;
  readonly at: Date;
  readonly actorId: string;
}

/** What plates are checked against is another: a version of the mounted bolster or of the press, or a mounting. */
export interface GroundChanged {
  readonly pressId: string;
  /** The bolster that is in the press now. */
  readonly bolsterId: string;
  readonly change: 'bolster' | 'mounted' | 'press';
  /** What was foreseen of it outside the transaction: reports take too long inside it. */
  readonly foreseen: Foreseen;
  readonly at: Date;
  readonly actorId: string;
}

/** Equipment will be taken out of service in this transaction, or put back: whoever is judged after is held before it. */
export interface ServiceChanging {
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly at: Date;
}

/** A piece of equipment is out of service for a span; bookings that hold it then have lost it. */
export interface OutOfService {
  readonly equipmentId: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly reason: string;
  readonly at: Date;
  readonly actorId: string;
}

/** A piece of equipment is back in service before its time out of it was over. */
export interface BackInService {
  readonly equipmentId: string;
  /** The time that it was to be out of service for. */
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly at: Date;
  readonly actorId: string;
}

/** Runs in the transaction of what happened: both stand or neither. */
export type Listener<Event> = (tx: Tx, event: Event) => Promise<void>;

/**
 * What later rooms do when something changes in an earlier one, which does not know them. `app.ts` says who
 * listens; a command that changes such a thing is given the listeners and tells them.
 */
export interface Listeners {
  readonly signOffGiven: readonly Listener<SignOffGiven>[];
  readonly signOffEnded: readonly Listener<SignOffEnded>[];
  readonly memberSuspended: readonly Listener<MemberSuspended>[];
  readonly suspensionEnded: readonly Listener<SuspensionEnded>[];
  readonly memberLeft: readonly Listener<MemberLeft>[];
  readonly founded: readonly Listener<Founded>[];
  readonly rulesChanged: readonly Listener<RulesChanged>[];
  readonly bolsterRevised: readonly Listener<BolsterRevised>[];
  readonly groundChanged: readonly Listener<GroundChanged>[];
  readonly serviceChanging: readonly Listener<ServiceChanging>[];
  readonly outOfService: readonly Listener<OutOfService>[];
  readonly backInService: readonly Listener<BackInService>[];
  readonly plateRevised: readonly Listener<PlateRevised>[];
  readonly sharingChanged: readonly Listener<SharingChanged>[];
  readonly plateRetired: readonly Listener<PlateRetired>[];
  readonly clearanceChanged: readonly Listener<ClearanceChanged>[];
}

/** Tells all who listen, one after the other, in the order in which they were wired. */
export async function tell<Event>(
  listeners: readonly Listener<Event>[],
  tx: Tx,
  event: Event,
): Promise<void> {
  for (const listener of listeners) await listener(tx, event);
}
