import type { Role } from '../../../server/context.js';
import { transact } from '../../../server/database/transaction.js';
import { accept } from '../../../server/http/refused.js';
import { keepCard } from '../../../server/inductions/store.js';
import { insertInvitations } from '../../../server/members/links.js';
import { newLink } from '../../../server/members/one-time-link.js';
import type { Subject } from '../../../server/members/permissions.js';
import { notify } from '../../../server/notices/notify.js';
import { insertOutage } from '../../../server/press/outages/store.js';
import { insertStackPart } from '../../../server/press/stack-parts/store.js';
import { insertGrade, insertGradeVersion } from '../../../server/resin/store.js';
import { insertClosure } from '../../../server/shop/closure-store.js';
import type { TestHouse } from '../app.js';
import { NO_FIGURES } from '../grades.js';
import { clearedReport, type PlainRows, plainPlate, plainReport } from '../plain-rows.js';
import { giveSignOffs } from '../sign-offs.js';
import { newMember, type Somebody } from './cast.js';

/** Where the tests happen: a furnished house, and an admin who is always there. */
export interface World {
  readonly house: TestHouse;
  readonly rows: PlainRows;
  readonly adminId: string;
}

/** A thing a route is tried on: what the table is asked about it, and what the address and the body say. */
export interface Thing {
  readonly subject: Subject;
  /** What it is seen by, where that is not the thing itself: a list in which it stands. */
  readonly seenAs?: Subject;
  readonly params?: { readonly [name: string]: string };
  /** Goes into the body where the route's body names a thing. */
  readonly named?: { readonly [field: string]: unknown };
}

/** Makes one, new, for who acts. */
export type ThingMaker = (world: World, actor: Somebody) => Promise<Thing>;

export type Things = { readonly [name: string]: ThingMaker };

/** What is always about oneself, or about nobody. */
export const NOTHING: Things = {
  nothing: async (_world, { memberId }) => ({ subject: { ownerId: memberId } }),
};

const memberThing = (id: string, role: Role): Thing => ({
  subject: { ownerId: id, role },
  params: { id },
  named: { memberId: id },
});

const member =
  (role: Role): ThingMaker =>
  async ({ house }) =>
    memberThing(await newMember(house, role), role);

export const MEMBERS: Things = {
  oneself: async (_world, { memberId, role }) => memberThing(memberId, role),
  'another member': member('member'),
  'another steward': member('steward'),
  'another admin': member('admin'),
};

/** A role that is wished for somebody who is not there yet. */
export const ROLES_WISHED: Things = Object.fromEntries(
  (['member', 'steward', 'admin'] as const).map((role) => [
    `for a ${role}`,
    async () => ({ subject: { role }, seenAs: { role: 'member' }, named: { role } }),
  ]),
);

let invitations = 0;

const invitation =
  (role: Role): ThingMaker =>
  async ({ house, adminId }) => {
    invitations += 1;
    const { tokenHash, expiresAt } = newLink('invitation', house.clock.now());
    const email = `invited-${invitations}@gullwing.example`;
    const given = { tokenHash, expiresAt, email, displayName: 'Invited', role };
    const [id = ''] = accept(
      await transact(house.database, (tx) =>
        insertInvitations(tx, [given], { by: adminId, at: house.clock.now() }),
      ),
    );
    return { subject: { role }, seenAs: { role: 'member' }, params: { id } };
  };

export const INVITATIONS: Things = {
  'of a member': invitation('member'),
  'of a steward': invitation('steward'),
  'of an admin': invitation('admin'),
};

/** A plate, with a report on what is mounted, so that looking at it computes nothing. */
async function plateOf({ house }: World, ownerId: string, sharing: 'nobody' | 'see' | 'run'): Promise<Thing> {
  const id = await plainPlate(house.database, ownerId);
  await plainReport(house.database, id, 'clear');
  await house.database.query('update plate set sharing = $2 where id = $1', [id, sharing]);
  return {
    subject: { ownerId, sharing },
    params: { id, revision: '1' },
    named: { plateId: id },
  };
}

const foreignPlate =
  (sharing: 'nobody' | 'see' | 'run'): ThingMaker =>
  async (world) =>
    plateOf(world, await newMember(world.house, 'member'), sharing);

export const PLATES: Things = {
  'an own plate': async (world, { memberId }) => plateOf(world, memberId, 'nobody'),
  'a plate of somebody else': foreignPlate('nobody'),
  'a plate shared to be seen': foreignPlate('see'),
  'a plate shared to be run': foreignPlate('run'),
};

/** A photograph of a plate, kept by the plate's owner. */
async function photographOf(world: World, plate: Thing): Promise<Thing> {
  const [row] = await world.house.database.query<{ id: string }>(
    `insert into photograph (plate_id, revision, whole, thumb, width_px, height_px, kept_by, kept_at)
     values ($1, 1, '\\xffd8ff00', '\\xffd8ff00', 1, 1, $2, $3) returning id`,
    [plate.params?.id ?? '', plate.subject.ownerId ?? '', world.house.clock.now()],
  );
  return { subject: plate.subject, params: { id: row?.id ?? '' } };
}

export const PHOTOGRAPHS: Things = Object.fromEntries(
  Object.entries(PLATES).map(([name, make]) => [
    `a photograph of ${name}`,
    async (world, actor) => photographOf(world, await make(world, actor)),
  ]),
);

let hoursBooked = 0;

/** A booking of an hour that nobody else has, straight into the database. */
async function bookingOf({ house, rows }: World, ownerId: string): Promise<Thing> {
  hoursBooked += 2;
  const { database, clock } = house;
  const startsAt = new Date(clock.now().getTime() + hoursBooked * 3_600_000);
  const endsAt = new Date(startsAt.getTime() + 3_600_000);
  const plateId = await plainPlate(database, ownerId);
  const { reportId, clearanceId } = await clearedReport(database, plateId);
  const id = await transact(database, async (tx) => {
    const [booking] = await tx.query<{ id: string }>(
      `insert into booking (member_id, press_id, plate_id, revision, report_id, polymer, starts_at, ends_at, created_at,
         clearance_id)
       values ($1, $2, $3, 1, $4, 'PP', $5, $6, $7, $8) returning id`,
      [ownerId, rows.pressId, plateId, reportId, startsAt, endsAt, clock.now(), clearanceId],
    );
    await tx.query(
      `insert into reservation (equipment_id, starts_at, ends_at, purpose, booking_id)
       values ($1, $2, $3, 'booking', $4)`,
      [rows.equipmentId, startsAt, endsAt, booking?.id ?? ''],
    );
    return booking?.id ?? '';
  });
  return { subject: { ownerId }, params: { id } };
}

export const BOOKINGS: Things = {
  'an own booking': async (world, { memberId }) => bookingOf(world, memberId),
  'a booking of somebody else': async (world) => bookingOf(world, await newMember(world.house, 'member')),
};

/** A run that is over, of a booking of the owner's. */
async function runOf(world: World, ownerId: string): Promise<Thing> {
  const { database } = world.house;
  await giveSignOffs(database, ownerId);
  const { params } = await bookingOf(world, ownerId);
  const [run] = await database.query<{ id: string }>(
    `insert into run (booking_id, press_id, bolster_id, bolster_version, plate_id, revision, kind, opened_by,
       opened_at, pre_use, within_call_name, attended_by, trial_plan, closed_at, closed_by, outcome, outcome_note)
     select b.id, b.press_id, r.bolster_id, r.bolster_version, b.plate_id, b.revision, b.booking_kind, b.member_id,
       b.starts_at, array['guards', 'emergency-stop', 'hoses', 'no-leaks', 'area-clear'], 'Somebody', null, null,
       b.ends_at, b.member_id, 'stopped', 'for the matrix'
     from booking b join plate_report r on r.id = b.report_id where b.id = $1 returning id`,
    [params?.id ?? ''],
  );
  return { subject: { ownerId }, params: { id: run?.id ?? '' } };
}

export const RUNS: Things = {
  'an own run': async (world, { memberId }) => runOf(world, memberId),
  'a run of somebody else': async (world) => runOf(world, await newMember(world.house, 'member')),
};

async function nearMissOf({ house }: World, ownerId: string): Promise<Thing> {
  const [row] = await house.database.query<{ id: string }>(
    `insert into near_miss (reported_by, reported_at, happened_at, place, what, hurt)
     values ($1, $2, $2, 'Press', 'For the matrix', 'nobody') returning id`,
    [ownerId, house.clock.now()],
  );
  return { subject: { ownerId }, params: { id: row?.id ?? '' } };
}

export const NEAR_MISSES: Things = {
  'one of one’s own': async (world, { memberId }) => nearMissOf(world, memberId),
  'one of somebody else': async (world) => nearMissOf(world, await newMember(world.house, 'member')),
};

const damageTo =
  (sharing: 'nobody' | 'see', ofOneself: boolean): ThingMaker =>
  async (world, { memberId }) => {
    const ownerId = ofOneself ? memberId : await newMember(world.house, 'member');
    const { subject, params } = await plateOf(world, ownerId, sharing);
    const [row] = await world.house.database.query<{ id: string }>(
      `insert into damage (plate_id, revision, x_mm, y_mm, what, reported_by, reported_at)
       values ($1, 1, 0, 0, 'For the matrix', $2, $3) returning id`,
      [params?.id ?? '', ownerId, world.house.clock.now()],
    );
    return { subject, params: { id: row?.id ?? '' } };
  };

export const DAMAGES: Things = {
  'damage to an own plate': damageTo('nobody', true),
  'damage to a plate of somebody else': damageTo('nobody', false),
  'damage to a plate that is shared': damageTo('see', false),
};

async function noticeOf({ house }: World, ownerId: string): Promise<Thing> {
  const { database, clock } = house;
  await transact(database, (tx) =>
    notify(tx, { memberIds: [ownerId], kind: 'booking-cancelled', href: '/bookings', at: clock.now() }),
  );
  const [row] = await database.query<{ id: string }>('select id from notice where member_id = $1', [ownerId]);
  return { subject: { ownerId }, params: { id: row?.id ?? '' } };
}

export const NOTICES: Things = {
  'an own notice': async (world, { memberId }) => noticeOf(world, memberId),
  'a notice of somebody else': async (world) => noticeOf(world, await newMember(world.house, 'member')),
};

async function signOffOf({ house }: World, ownerId: string): Promise<Thing> {
  await giveSignOffs(house.database, ownerId, ['granulator']);
  const [row] = await house.database.query<{ id: string }>(
    `select id from sign_off where member_id = $1 and competence = 'granulator'`,
    [ownerId],
  );
  return { subject: { ownerId }, params: { id: row?.id ?? '' } };
}

export const SIGN_OFFS: Things = {
  'an own sign-off': async (world, { memberId }) => signOffOf(world, memberId),
  'a sign-off of somebody else': async (world) => signOffOf(world, await newMember(world.house, 'member')),
};

async function witnessRequestOf({ house }: World, ownerId: string): Promise<Thing> {
  const [row] = await house.database.query<{ id: string }>(
    `insert into witness_request (member_id, competence, version, asked_at)
     values ($1, 'granulator', 1, $2) returning id`,
    [ownerId, house.clock.now()],
  );
  return { subject: { ownerId }, params: { id: row?.id ?? '' } };
}

export const WITNESS_REQUESTS: Things = {
  'of one’s own': async (world, { memberId }) => witnessRequestOf(world, memberId),
  'of somebody else': async (world) => witnessRequestOf(world, await newMember(world.house, 'member')),
};

let closures = 0;

export const CLOSURES: Things = {
  'a closure': async ({ house, adminId }) => {
    closures += 1;
    const startsAt = new Date(Date.UTC(2090, 0, closures));
    const endsAt = new Date(startsAt.getTime() + 3_600_000);
    const id = await transact(house.database, (tx) =>
      insertClosure(tx, { startsAt, endsAt, note: 'Away', madeBy: adminId, createdAt: house.clock.now() }),
    );
    return { subject: {}, params: { id } };
  },
};

/** The bolster that is not in the press. */
export const BOLSTERS: Things = {
  'a bolster': async ({ house }) => {
    const [row] = await house.database.query<{ id: string }>(
      'select id from bolster where not mounted limit 1',
    );
    return { subject: {}, params: { id: row?.id ?? '' } };
  },
};

let outages = 0;

export const OUTAGES: Things = {
  'a time out of service': async ({ house, rows, adminId }) => {
    outages += 1;
    const startsAt = new Date(Date.UTC(2091, 0, outages));
    const endsAt = new Date(startsAt.getTime() + 3_600_000);
    const given = { equipmentId: rows.equipmentId, startsAt, endsAt, reason: 'Oil', madeBy: adminId };
    const id = await transact(house.database, (tx) =>
      insertOutage(tx, { ...given, createdAt: house.clock.now() }),
    );
    return { subject: {}, params: { id }, named: { equipmentId: rows.equipmentId } };
  },
};

let stackPartsMade = 0;

export const STACK_PARTS: Things = {
  'a packer': async ({ house, adminId }) => {
    stackPartsMade += 1;
    const metal = { kind: 'packer', thicknessMm: 8, widthMm: 150, heightMm: 120, material: 'steel' } as const;
    const label = { name: `Packer ${stackPartsMade}`, parallelWithinMm: null, place: '', note: '' };
    const id = await transact(house.database, (tx) =>
      insertStackPart(tx, { ...metal, ...label, madeBy: adminId, at: house.clock.now() }),
    );
    return { subject: {}, params: { id } };
  },
};

let gradesMade = 0;

export const RESIN_GRADES: Things = {
  'a grade': async ({ house, adminId }) => {
    gradesMade += 1;
    const made = { by: adminId, at: house.clock.now() };
    const sheet = { sheetTitle: 'A sheet', sheetDate: '2020-01-01', isHalogenated: false, fillerPercent: 0 };
    const id = await transact(house.database, async (tx) => {
      const grade = { name: `Grade ${gradesMade}`, polymer: 'PP', isPostConsumer: false };
      const added = await insertGrade(tx, { ...grade, ...made });
      await insertGradeVersion(tx, added, 1, { ...sheet, figures: NO_FIGURES, note: '', why: null, ...made });
      return added;
    });
    return { subject: {}, params: { id } };
  },
};

let cards = 0;

async function cardOf({ house }: World, ownerId: string): Promise<Thing> {
  cards += 1;
  const code = `card-of-the-matrix-number-${cards}`;
  await transact(house.database, (tx) => keepCard(tx, ownerId, code, house.clock.now()));
  return { subject: { ownerId }, seenAs: {}, params: { code } };
}

/** A card's code is for who checks it: its member holds the card and is shown nothing by it. */
export const CARDS: Things = {
  'a card of somebody else': async (world) => cardOf(world, await newMember(world.house, 'member')),
};
