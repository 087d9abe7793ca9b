import supertest from 'supertest';
import { transact } from '../../server/database/transaction.js';
import { PRE_USE_LINES } from '../../server/runs/pre-use.js';
import type { TestHouse } from './app.js';
import { signedInMember } from './sign-in.js';

export interface TrialWanted {
  readonly memberId: string;
  readonly headers: { readonly authorization: string };
  /** Cleared at least for fit on the mounted bolster, a report in PP stored. */
  readonly plateId: string;
}

/**
 * A trial booking whose time it is, straight into the database: whatever the hour, and whatever a booking made now
 * would be refused for. It begins at this minute and takes as long as is said.
 */
export async function trialBookedNow(
  house: TestHouse,
  { memberId, plateId }: Pick<TrialWanted, 'memberId' | 'plateId'>,
  minutes = 60,
): Promise<string> {
  const startsAt = house.clock.now();
  const endsAt = new Date(startsAt.getTime() + minutes * 60_000);
  return transact(house.database, async (tx) => {
    const [booking] = await tx.query<{ id: string }>(
      `insert into booking (member_id, press_id, plate_id, revision, report_id, polymer, booking_kind, starts_at,
         ends_at, created_at, clearance_id)
       select $1, r.press_id, r.plate_id, r.revision, r.id, r.polymer, 'trial', $3, $4, $3,
         (select id from clearance where plate_id = r.plate_id and decision = 'clear' order by place desc limit 1)
       from plate_report r join bolster b on b.id = r.bolster_id and b.mounted
       where r.plate_id = $2 and r.polymer = 'PP' order by r.revision desc, r.created_at desc limit 1 returning id`,
      [memberId, plateId, startsAt, endsAt],
    );
    const bookingId = booking?.id ?? '';
    await tx.query(
      `insert into reservation (equipment_id, starts_at, ends_at, purpose, booking_id)
       select e.id, b.starts_at, b.ends_at, 'booking', b.id
       from booking b join equipment e on e.press_id = b.press_id where b.id = $1`,
      [bookingId],
    );
    return bookingId;
  });
}

/** A trial that is booked for now and opened, with a steward made for it beside it. */
export async function openedTrial(house: TestHouse, wanted: TrialWanted) {
  const bookingId = await trialBookedNow(house, wanted);
  const steward = await signedInMember(house, 'steward');
  const reply = await supertest(house.url)
    .post(`/api/v1/bookings/${bookingId}/run`)
    .set(wanted.headers)
    .send({
      preUse: PRE_USE_LINES,
      withinCall: { memberId: steward.member.id },
      attendedBy: steward.member.id,
    });
  if (reply.status !== 201) throw new Error(`Opening answered ${reply.status}: ${reply.text}`);
  return { bookingId, runId: (reply.body as { readonly id: string }).id, steward };
}
