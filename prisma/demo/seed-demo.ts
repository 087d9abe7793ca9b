import type { Temporal } from 'temporal-polyfill';
import { book } from '../../server/bookings/book.js';
import type { Actor } from '../../server/context.js';
import type { Tx } from '../../server/database/transaction.js';
import { memberAsking } from '../../server/http/asker.js';
import { hashPassword } from '../../server/members/password-hash.js';
import { storedReport } from '../../server/plates/stored-report.js';
import { addBolster, addPress } from '../../server/press/add.js';
import { Refusal } from '../../server/reasons.js';
import { dayOf, instantOfClockTime, isOpenThroughout, type Span } from '../../server/shop/opening-hours.js';
import { addRules } from '../../server/shop/store.js';
import { checksHere } from './checks-here.js';
import {
  BOLSTER_1,
  KEYED_BOLSTER,
  YARD_ACCOUNTS,
  YARD_MEMBERS,
  YARD_PASSWORD,
  YARD_PRESS,
  YARD_RULES,
  type YardMember,
} from './gullwing-yard.js';
import { seedClearances } from './seed-clearances.js';
import { seedDamage } from './seed-damage.js';
import { seedClosure, seedComingRules, seedInvitation } from './seed-floor.js';
import { seedGrades } from './seed-grades.js';
import { type OwnedPlate, seedPlates } from './seed-plates.js';
import { seedInspection, seedOutOfService, seedRack } from './seed-press-kept.js';
import { seedNearMisses, seedTrial } from './seed-runs.js';
import { seedSignOffs } from './seed-sign-offs.js';
import { TRIED } from './yard-trial.js';
import { INSPECTION, YARD_WEEKS, type YardBooking } from './yard-week.js';

const DAY_MS = 86_400_000;

/** How long ago the yard opened, and how long ago everybody booked what stands in the plan. */
const OPENED_DAYS_AGO = 60;
const BOOKED_DAYS_AGO = 9;

/**
 * Fills an empty database with Gullwing Yard: press, bolsters, members, plates, and two weeks of bookings around
 * `now`. Plates and bookings go in by the same commands that members use, so nothing stands in it that the
 * service would not have taken.
 */
export async function seedDemo(tx: Tx, now: Date): Promise<void> {
  const opened = new Date(now.getTime() - OPENED_DAYS_AGO * DAY_MS);
  await addRules(tx, YARD_RULES, opened, null);
  const pressId = await addPress(tx, { name: 'Press', facts: YARD_PRESS, at: opened });
  await addBolster(tx, { pressId, name: 'Bolster 1', mounted: true, facts: BOLSTER_1, at: opened });
  await addBolster(tx, { pressId, name: 'Keyed bolster', mounted: false, facts: KEYED_BOLSTER, at: opened });
  const members = await seedMembers(tx, opened);
  await seedSignOffs(tx, members, opened, now);
  const plates = await seedPlates(tx, (key) => actorIn(members, key), opened);
  await seedClearances(tx, plates, (key) => actorIn(members, key));
  await seedOtherEquipment(tx, opened);
  const admin = { actor: actorIn(members, 'maren'), now, tx };
  const steward = { ...admin, actor: actorIn(members, 'odile') };
  await seedInspection({ ...admin, now: opened });
  await seedRack({ ...steward, now: opened });
  await seedOutOfService(steward, spanOn(dayFrom(now, INSPECTION.day), INSPECTION.from, INSPECTION.to));
  await seedClosure(admin);
  await seedBookings(tx, now, members, plates);
  const yard = {
    tx,
    now,
    actorIn: (key: YardMember) => actorIn(members, key),
    spanOn: (day: number, from: string, to: string) => spanOn(dayFrom(now, day), from, to),
  };
  await seedTrial(yard, plates.get(TRIED.plate)?.plateId ?? '');
  await seedNearMisses(yard);
  await seedDamage(yard, plates);
  await seedComingRules(admin);
  await seedInvitation({ ...admin, actor: actorIn(members, 'odile') });
  await seedGrades({ ...admin, actor: actorIn(members, 'odile') });
}

async function seedMembers(tx: Tx, opened: Date): Promise<ReadonlyMap<YardMember, Actor>> {
  const passwordHash = await hashPassword(YARD_PASSWORD);
  const members = new Map<YardMember, Actor>();
  for (const member of YARD_MEMBERS) {
    const { key, displayName, role, email } = member;
    const hash = YARD_ACCOUNTS.includes(member) ? passwordHash : null;
    const [row] = await tx.query<{ id: string }>(
      `insert into member (email, display_name, role, password_hash, created_at)
       values ($1, $2, $3, $4, $5) returning id`,
      [email, displayName, role, hash, opened],
    );
    members.set(key, {
      memberId: row?.id ?? '',
      displayName,
      role,
      stewards: role !== 'member',
      sessionIdHash: '',
    });
  }
  return members;
}

async function seedOtherEquipment(tx: Tx, opened: Date): Promise<void> {
  for (const [kind, name] of [
    ['oven-tray', 'Drying oven, upper tray'],
    ['oven-tray', 'Drying oven, lower tray'],
    ['granulator', 'Granulator'],
  ] as const) {
    await tx.query('insert into equipment (kind, name, created_at) values ($1, $2, $3)', [
      kind,
      name,
      opened,
    ]);
  }
}

async function seedBookings(
  tx: Tx,
  now: Date,
  members: ReadonlyMap<YardMember, Actor>,
  plates: ReadonlyMap<string, OwnedPlate>,
): Promise<void> {
  const bookedAt = new Date(now.getTime() - BOOKED_DAYS_AGO * DAY_MS);
  for (const [day, bookings] of Object.entries(YARD_WEEKS)) {
    for (const booking of bookings) {
      const plate = plates.get(booking.plate);
      const span = spanOn(dayFrom(now, Number(day)), booking.from, booking.to);
      if (plate === undefined || !isOpenThroughout(span, YARD_RULES)) continue;
      await seedBooking({ actor: actorIn(members, plate.owner), now: bookedAt, tx }, plate, booking, span);
    }
  }
}

async function seedBooking(
  ctx: { readonly actor: Actor; readonly now: Date; readonly tx: Tx },
  { plateId }: OwnedPlate,
  { polymer, shots, kind = 'production' }: YardBooking,
  span: Span,
): Promise<void> {
  const house = { checks: checksHere, database: ctx.tx, now: () => ctx.now };
  const wish = { plateId, revision: 1, polymer, bolsterId: null };
  const report = await storedReport(house, wish, memberAsking(ctx.actor));
  if (report instanceof Refusal) return;
  // What the rules refuse, such as a booking on the closed day, simply does not stand in the plan.
  await book(ctx, {
    ...span,
    plateId,
    revision: 1,
    polymer,
    bookingKind: kind,
    granulate: false,
    shots,
  });
}

function actorIn(members: ReadonlyMap<YardMember, Actor>, key: YardMember): Actor {
  const actor = members.get(key);
  if (actor === undefined) throw new Error(`Nobody at the yard is called ${key}.`);
  return actor;
}

function dayFrom(now: Date, days: number): Temporal.PlainDate {
  return dayOf(now, YARD_RULES.timeZone).add({ days });
}

function spanOn(day: Temporal.PlainDate, from: string, to: string): Span {
  const startsAt = instantOfClockTime(day, from, YARD_RULES.timeZone);
  const endsAt = instantOfClockTime(day, to, YARD_RULES.timeZone);
  if (startsAt === undefined || endsAt === undefined) throw new Error(`No ${from} to ${to} on ${day}.`);
  return { startsAt, endsAt };
}
