import type { Ctx } from '../context.js';
import { may, refusalUnless } from '../members/permissions.js';
import { memberHeld } from '../members/store.js';
import { ReportWanted } from '../plates/report-wanted.js';
import { plateHeld } from '../plates/store.js';
import { mountedStands } from '../press/store.js';
import { Refusal, refuse } from '../reasons.js';
import type { Span } from '../shop/opening-hours.js';
import { rulesStand } from '../shop/store.js';
import type { Ground } from './conditions.js';
import { quotaUse } from './quota.js';
import { restingGround } from './standing-ground.js';
import { type BookingKind, pressHeldIn } from './store.js';

/** What a booking is asked for: this plate's revision with this resin, in this span. */
export interface Wanted extends Span {
  readonly plateId: string;
  /** Null: the latest. */
  readonly revision: number | null;
  readonly polymer: string;
  readonly bookingKind: BookingKind;
  /** Whether sprues and rejects are to be ground up again afterwards. */
  readonly granulate: boolean;
}

/** What a booking is judged by and, once it stands, stands on. */
export interface BookingGround extends Ground {
  readonly pressId: string;
  readonly reportId: string;
  readonly clearanceId: string | null;
}

/**
 * Reads all that a booking is judged by, holding the member, so that no sign-off of theirs is revoked, no other
 * booking of theirs is made and they are not suspended in between; the plate, so that no revision is made of it and
 * nothing is decided about its clearance; the shop rules, the mounted bolster and the press, so that no version of
 * them is set. The rules are those that hold when the booking starts, and the report is the one of these, the bolster
 * and the press as this transaction sees them, not as they were a moment ago.
 *
 * @param except a booking whose own hold on the press does not count: the one that is moved
 * @throws ReportWanted when the report it would stand on has not been computed
 */
export async function readGround(
  { actor, now, tx }: Ctx,
  wanted: Wanted,
  except: string | null,
): Promise<BookingGround | Refusal> {
  const member = await memberHeld(tx, actor.memberId);
  if (member?.state !== 'active') return refuse('member-suspended');
  const plate = await plateHeld(tx, wanted.plateId);
  if (plate === undefined || !may(actor, 'plate-see', plate)) {
    return refuse('not-found', { field: 'plateId', figures: { what: 'plate' } });
  }
  const forbidden = refusalUnless(actor, 'plate-run', plate);
  if (forbidden !== undefined) return forbidden;
  const revision = wanted.revision ?? plate.latestRevision;
  if (revision < 1 || revision > plate.latestRevision) {
    return refuse('not-found', { field: 'revision', figures: { what: 'revision' } });
  }
  await rulesStand(tx);
  await mountedStands(tx);
  const { memberId } = actor;
  const resting = { ...wanted, memberId, memberSuspended: false, plate, revision };
  const ground = await restingGround(tx, resting, now);
  if (ground instanceof Refusal) return ground;
  const { reportId, rules } = ground;
  if (reportId === null) throw new ReportWanted(ground.reportKey, ground.rulesAt);
  return {
    ...ground,
    now,
    reportId,
    held: await pressHeldIn(tx, ground.pressId, wanted, { except, memberId }),
    quotaUse: await quotaUse(tx, memberId, rules, { asked: wanted.startsAt, now, except }),
  };
}
