import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Reason, Refusal } from '../reasons.js';
import { clockText, dayText } from '../words/en/times.js';
import { closuresIn, equipmentHeld, insertClosure } from './closure-store.js';
import type { Span } from './opening-hours.js';
import type { ShopHouse } from './shop-house.js';
import { rulesAt } from './store.js';

export interface ClosureWanted {
  /** Null: from now on. */
  readonly startsAt: Date | null;
  readonly endsAt: Date;
  readonly note: string;
}

const DAY_MS = 86_400_000;
const LONGEST_DAYS = 366;

/**
 * Closes the workshop for a span: every piece of equipment is held. Bookings that stand in it are not pushed
 * aside; the refusal names each, to be cancelled or moved first.
 *
 * @returns the closure's id, or every reason against it
 */
export async function close(
  { actor, now, tx }: Ctx,
  wanted: ClosureWanted,
  { bookingsIn }: Pick<ShopHouse, 'bookingsIn'>,
): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'shop-rules-edit', {});
  if (forbidden !== undefined) return forbidden;
  const span: Span = { startsAt: wanted.startsAt ?? now, endsAt: wanted.endsAt };
  const [wrong, ...more] = faultsOf(span, now);
  if (wrong !== undefined) return new Refusal([wrong, ...more]);
  await equipmentHeld(tx);
  const { timeZone } = await rulesAt(tx, now);
  const [standing, bookings] = [await closuresIn(tx, span), await bookingsIn(tx, span)];
  const told = (instant: Date) => `${dayText(instant, timeZone)}, ${clockText(instant, timeZone)}`;
  const figuresOf = ({ startsAt, endsAt }: Span) => ({ from: told(startsAt), until: told(endsAt) });
  const [first, ...others] = [
    ...standing.map(
      (closure): Reason => ({ code: 'closure-overlaps', field: 'startsAt', figures: figuresOf(closure) }),
    ),
    ...bookings.map(
      (booking): Reason => ({
        code: 'closure-over-booking',
        field: 'startsAt',
        figures: { who: booking.displayName, bookingId: booking.bookingId, ...figuresOf(booking) },
      }),
    ),
  ];
  if (first !== undefined) return new Refusal([first, ...others]);
  const { note } = wanted;
  const id = await insertClosure(tx, { ...span, note, madeBy: actor.memberId, createdAt: now });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'closure-made',
    subjectKind: 'closure',
    subjectId: id,
    details: { startsAt: span.startsAt.toISOString(), endsAt: span.endsAt.toISOString(), note },
  });
  return id;
}

function faultsOf({ startsAt, endsAt }: Span, now: Date): readonly Reason[] {
  const reasons: Reason[] = [];
  if (startsAt >= endsAt) reasons.push({ code: 'closure-backwards', field: 'endsAt' });
  if (startsAt < now) reasons.push({ code: 'closure-in-the-past', field: 'startsAt' });
  const latest = now.getTime() + LONGEST_DAYS * DAY_MS;
  if (endsAt.getTime() > latest) {
    reasons.push({ code: 'closure-too-far-ahead', field: 'endsAt', figures: { maxDays: LONGEST_DAYS } });
  }
  return reasons;
}
