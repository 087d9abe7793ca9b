import { randomUUID } from 'node:crypto';
import { cp, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Database } from '../../server/database/database.js';
import { openDatabase } from '../../server/database/database.js';
import { migrate } from '../../server/database/migrate.js';
import type { Queryable } from '../../server/database/queryable.js';
import { hashPassword } from '../../server/members/password-hash.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { afterwards } from './afterwards.js';
import { emptyDatabaseUrl } from './database.js';
import { demoBolster, demoPress } from './gullwing.js';
import { gullwingRules } from './gullwing-house.js';
import { sampleDxf } from './plate-bodies.js';
import { TEST_PASSWORD } from './sign-in.js';
import { giveSignOffs, TO_BOOK } from './sign-offs.js';

const MIGRATIONS = join(PROJECT_FOLDER, 'prisma', 'migrations');
const DAY_MS = 86_400_000;
const LONG_AGO = new Date('2020-01-01T00:00:00Z');

/** What stood in a house before plates were cleared, by id. */
export interface HouseBefore {
  readonly database: Database;
  /** Applies every migration that was missing. */
  readonly bringUp: () => Promise<readonly string[]>;
  readonly members: { readonly wren: string; readonly odile: string; readonly maren: string };
  readonly plateId: string;
  readonly bookings: {
    readonly over: string;
    readonly production: string;
    readonly trial: string;
    readonly attention: string;
    readonly cancelled: string;
  };
}

/** A database as the first `count` migrations make it, with rows as a house of that time had them. */
export async function houseBeforeClearances(count: number): Promise<HouseBefore> {
  const url = await emptyDatabaseUrl();
  const folder = await mkdtemp(join(tmpdir(), 'platenshare-early-'));
  afterwards(() => rm(folder, { recursive: true }));
  for (const name of (await readdir(MIGRATIONS)).sort().slice(0, count))
    await cp(join(MIGRATIONS, name), join(folder, name), { recursive: true });
  await migrate(url, folder);
  const database = await openDatabase(url, () => {});
  afterwards(database.close);
  const members = await fillMembers(database);
  const { pressId, equipmentId, bolsterId } = await fillPress(database, members.maren);
  const { plateId, reportId } = await fillPlate(database, members.wren, { pressId, bolsterId });
  const book = (daysAhead: number, status: string, kind = 'production') =>
    bookOne(database, { memberId: members.wren, pressId, equipmentId, plateId, reportId }, [
      daysAhead,
      status,
      kind,
    ]);
  const bookings = {
    over: await book(-10, 'booked'),
    production: await book(10, 'booked'),
    trial: await book(11, 'booked', 'trial'),
    attention: await book(12, 'needs-attention'),
    cancelled: await book(13, 'cancelled'),
  };
  await fillHistory(database, members);
  return { database, bringUp: () => migrate(url), members, plateId, bookings };
}

async function fillMembers(db: Queryable) {
  const passwordHash = await hashPassword(TEST_PASSWORD);
  const add = async (name: string, role: string) => {
    const id = randomUUID();
    await db.query(
      `insert into member (id, email, display_name, role, password_hash, created_at) values ($1, $2, $3, $4, $5, $6)`,
      [id, `${name.toLowerCase()}@gullwing.example`, name, role, passwordHash, LONG_AGO],
    );
    await giveSignOffs(db, id, role === 'steward' ? [...TO_BOOK, 'stewarding'] : TO_BOOK);
    return id;
  };
  return {
    wren: await add('Wren', 'member'),
    odile: await add('Odile', 'steward'),
    maren: await add('Maren', 'admin'),
  };
}

async function fillPress(db: Queryable, setBy: string) {
  const { roomC: _, ...rules } = gullwingRules;
  await db.query(
    'insert into shop_rule (version, valid_from, rules, set_by, created_at) values (1, $1, $2, $3, $1)',
    [LONG_AGO, JSON.stringify(rules), setBy],
  );
  const [pressId, bolsterId, equipmentId] = [randomUUID(), randomUUID(), randomUUID()];
  await db.query(`insert into press (id, name) values ($1, 'Press')`, [pressId]);
  await db.query(`insert into equipment (id, kind, name, press_id) values ($1, 'press', 'Press', $2)`, [
    equipmentId,
    pressId,
  ]);
  const { clamp, injection } = demoPress;
  for (const version of [1, 2]) {
    await db.query(
      `insert into press_version (press_id, version, clamp_kind, clamp_min_kn, clamp_max_kn, tie_bars_width_mm,
         tie_bars_height_mm, platens_guided, opening_stroke_mm, screw_diameter_mm, shot_cm3, max_pressure_mpa,
         max_flow_cm3_per_s, barrel_shots, nozzle_orifice_mm)
       values ($1, $2, $3, $4, $5, 320, 320, true, 180, 28, $6, 160, 70, 2, 2)`,
      [pressId, version, clamp.kind, clamp.minKn, clamp.maxKn, injection.shotCm3],
    );
  }
  await db.query(`insert into bolster (id, press_id, name, mounted) values ($1, $2, 'Grid', true)`, [
    bolsterId,
    pressId,
  ]);
  const holes = demoBolster.holes.map(({ at, ...hole }) => ({ ...hole, xMm: at.x, yMm: at.y }));
  for (const version of [1, 2]) {
    await db.query(
      `insert into bolster_version (bolster_id, version, face_width_mm, face_height_mm, face_centre_x_mm,
         face_centre_y_mm, face_material, allowable_face_pressure_mpa, holes, sprue_length_mm, sprue_nozzle_end_mm,
         sprue_parting_face_mm, minimum_daylight_mm, largest_stack_mm)
       values ($1, $2, 200, 160, 0, 0, 'steel', 250, $3, 20, 2.5, 3.5, 12, 60)`,
      [bolsterId, version, JSON.stringify(holes)],
    );
  }
  return { pressId, bolsterId, equipmentId };
}

/** Two revisions whose facts say what could be said then, and a report of the latter. */
async function fillPlate(db: Queryable, ownerId: string, on: { pressId: string; bolsterId: string }) {
  const [plateId, reportId] = [randomUUID(), randomUUID()];
  await db.query(
    `insert into plate (id, owner_id, name, sharing, created_at) values ($1, $2, 'Tile spacer', 'run', $3)`,
    [plateId, ownerId, LONG_AGO],
  );
  const facts = {
    thicknessMm: 16,
    facingThicknessMm: 0,
    packerThicknessMm: 0,
    alloy: 'EN AW-6082-T6',
    partHeightMm: null,
    screw: { size: 'M6', lengthMm: 20, headSinkDepthMm: 7, headSinkDiameterMm: 11 },
  };
  for (const [revision, thicknessMm] of [
    [1, 17],
    [2, 16],
  ] as const) {
    await db.query(
      `insert into plate_revision (plate_id, revision, dxf, dxf_sha256, file_name, facts, created_by, created_at)
       values ($1, $2, convert_to($3, 'LATIN1'), encode(sha256(convert_to($3, 'LATIN1')), 'hex'), 'tile.dxf', $4, $5, $6)`,
      [
        plateId,
        revision,
        sampleDxf('tile-spacer-4up'),
        JSON.stringify({ ...facts, thicknessMm }),
        ownerId,
        LONG_AGO,
      ],
    );
  }
  const report = { verdict: 'clear', findings: [{ check: 'daylight', verdict: 'clear' }] };
  await db.query(
    `insert into plate_report (id, plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer,
       shop_rule_version, data_version, engine_version, verdict, report, created_at)
     values ($1, $2, 2, $3, 2, $4, 2, 'PP', 1, '1', '1', 'clear', $5, $6)`,
    [reportId, plateId, on.bolsterId, on.pressId, JSON.stringify(report), LONG_AGO],
  );
  return { plateId, reportId };
}

interface BookedWith {
  readonly memberId: string;
  readonly pressId: string;
  readonly equipmentId: string;
  readonly plateId: string;
  readonly reportId: string;
}

/** One hour at noon of a day, with its hold on the press unless it is cancelled. */
async function bookOne(
  db: Queryable,
  { memberId, pressId, equipmentId, plateId, reportId }: BookedWith,
  [daysAhead, status, kind]: readonly [number, string, string],
): Promise<string> {
  const id = randomUUID();
  const startsAt = new Date(Math.floor(Date.now() / DAY_MS + daysAhead) * DAY_MS + DAY_MS / 2);
  const endsAt = new Date(startsAt.getTime() + 3_600_000);
  const cancelled = status === 'cancelled';
  await db.query(
    `with made as (
       insert into booking (id, member_id, press_id, plate_id, revision, report_id, polymer, booking_kind, starts_at,
         ends_at, status, cancelled_at, cancelled_by, created_at)
       values ($1, $2, $3, $4, 2, $5, 'PP', $6, $7, $8, $9, $10, $11, $12))
     insert into reservation (equipment_id, starts_at, ends_at, purpose, booking_id, released_at)
       values ($13, $7, $8, 'booking', $1, $10)`,
    [
      id,
      memberId,
      pressId,
      plateId,
      reportId,
      kind,
      startsAt,
      endsAt,
      status,
      cancelled ? LONG_AGO : null,
      cancelled ? memberId : null,
      LONG_AGO,
      equipmentId,
    ],
  );
  return id;
}

async function fillHistory(db: Queryable, { wren, odile }: HouseBefore['members']): Promise<void> {
  await db.query(
    `insert into notice (member_id, kind, figures, href, created_at)
     values ($1, 'signed-off', '{"competence": "press-operation"}', '/inductions', $2)`,
    [wren, LONG_AGO],
  );
  await db.query(
    `insert into audit_entry (at, actor_id, action, subject_kind, subject_id, details)
     values ($1, $2, 'signed-off', 'member', $3, '{"competence": "press-operation"}')`,
    [LONG_AGO, odile, wren],
  );
  await db.query(
    `insert into closure (starts_at, ends_at, note, made_by, created_at) values ($1, $2, 'Stocktake', $3, $1)`,
    [LONG_AGO, new Date(LONG_AGO.getTime() + DAY_MS), odile],
  );
}
