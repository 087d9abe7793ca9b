import type { Ctx } from '../context.js';
import { missingCompetences } from '../inductions/standing.js';
import { may, refusalUnless } from '../members/permissions.js';
import { memberHeld } from '../members/store.js';
import { checkGround, reportKey } from '../plates/check-ground.js';
import { ReportWanted } from '../plates/report-wanted.js';
import { plateHeld, standingOf } from '../plates/store.js';
import { mountedStands } from '../press/store.js';
import { Refusal, refuse } from '../reasons.js';
import type { Span } from '../shop/opening-hours.js';
import { rulesStand } from '../shop/store.js';
import type { Ground } from './conditions.js';
import { quotaUse } from './quota.js';
import { SIGN_OFFS_NEEDED } from './sign-offs-needed.js';
import { pressHeldIn } from './store.js';

/** What a booking is asked for: this plate's revision with this resin, in this span. */
export interface Wanted extends Span {
  readonly plateId: string;
  readonly revision: number;
  readonly polymer: string;
}

/** What a booking is judged by and, once it stands, stands on. */
export interface BookingGround extends Ground {
  readonly pressId: string;
  readonly reportId: string;
}

/**
 * Reads all that a booking is judged by, holding the member, so that no sign-off of theirs is revoked, no other
 * booking of theirs is made and they are not suspended in between; the plate, so that no revision is; the shop
 * rules, the mounted bolster and the press, so that no version of them is set. The rules are those that hold when the booking starts, and the report is the
 * one of these, the bolster and the press as this transaction sees them, not as they were a moment ago.
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
  if (wanted.revision < 1 || wanted.revision > plate.latestRevision) {
    return refuse('not-found', { field: 'revision', figures: { what: 'revision' } });
  }
  await rulesStand(tx);
  await mountedStands(tx);
  const at = wanted.startsAt > now ? wanted.startsAt : now;
  const against = await checkGround(tx, at, null);
  if (against instanceof Refusal) return against;
  const key = reportKey(against, plate.id, wanted.revision, wanted.polymer);
  const report = await standingOf(tx, key);
  if (report === undefined) throw new ReportWanted(key, at);
  return {
    now,
    rules: against.rules,
    span: { startsAt: wanted.startsAt, endsAt: wanted.endsAt },
    signOffsMissing: await missingCompetences(tx, actor.memberId, SIGN_OFFS_NEEDED, lastInstant(wanted, now)),
    revision: { asked: wanted.revision, latest: plate.latestRevision, booked: except !== null },
    stops: report.stops,
    held: await pressHeldIn(tx, against.press.id, wanted, { except, memberId: actor.memberId }),
    quotaUse: await quotaUse(tx, actor.memberId, against.rules, { asked: wanted.startsAt, now, except }),
    pressId: against.press.id,
    reportId: report.id,
  };
}

/** A sign-off has to stand now and until the booking is over. */
function lastInstant({ endsAt }: Span, now: Date): Date {
  return endsAt > now ? endsAt : now;
}
