import supertest from 'supertest';
import { beforeAll, describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { houseBeforeClearances } from '../support/house-before-clearances.js';
import { bearerOf } from '../support/sign-in.js';

/** The migrations that databases in use had before plates were cleared. */
const EARLY = 6;

const before = await houseBeforeClearances(EARLY);
const { database, members, plateId, bookings } = before;

/** Every row of every table that there was, without columns that came since. */
async function rowsOf(columns?: Columns): Promise<{ columns: Columns; rows: { [table: string]: unknown } }> {
  const known = columns ?? (await columnsNow());
  const rows: { [table: string]: unknown } = {};
  for (const [table, names] of Object.entries(known)) {
    const listed = names.map((name) => `'${name}', to_jsonb(t) -> '${name}'`).join(', ');
    rows[table] = await database.query(
      `select jsonb_build_object(${listed}) as row from "${table}" t order by 1`,
    );
  }
  return { columns: known, rows };
}

type Columns = { readonly [table: string]: readonly string[] };

async function columnsNow(): Promise<Columns> {
  const found = await database.query<{ table: string; names: string[] }>(
    `select table_name as table, array_agg(column_name::text order by column_name) as names
     from information_schema.columns where table_schema = 'public' group by 1`,
  );
  return Object.fromEntries(found.map(({ table, names }) => [table, names]));
}

const old = await rowsOf();
const applied = await before.bringUp();
const now = await rowsOf(old.columns);
const house = await testHouse(database);
const api = supertest(house.url);
const header = (name: string, id: string) =>
  bearerOf(house, { id, displayName: name, email: `${name.toLowerCase()}@gullwing.example` });

describe('a database of a house that did not clear plates yet', () => {
  let wren: { authorization: string };
  let odile: { authorization: string };
  beforeAll(async () => {
    wren = await header('Wren', members.wren);
    odile = await header('Odile', members.odile);
  });

  it('loses no row and changes none but the state of bookings', () => {
    expect(applied[0]).toMatch(/^0007/);
    const { booking, notice, audit_entry, schema_migration, ...others } = now.rows;
    const {
      booking: oldBookings,
      notice: oldNotices,
      audit_entry: oldTrail,
      schema_migration: oldMigrations,
      ...oldOthers
    } = old.rows;
    expect(others).toEqual(oldOthers);
    for (const [then, since] of [
      [oldNotices, notice],
      [oldTrail, audit_entry],
      [oldMigrations, schema_migration],
    ])
      expect(since).toEqual(expect.arrayContaining(then as unknown[]));
    const unstated = (rows: unknown) =>
      (rows as { row: { status: string } }[]).map(({ row: { status: _, ...row } }) => row);
    expect(new Set(unstated(booking))).toEqual(new Set(unstated(oldBookings)));
  });

  it('leaves what is over and cancelled as it is, and lets what is to come wait for a clearance', async () => {
    const states = Object.fromEntries(
      await Promise.all(
        Object.entries(bookings).map(async ([name, id]) => {
          const { body } = await api.get(`/api/v1/bookings/${id}`).set(wren).expect(200);
          return [name, [body.status, ...body.attention.map(({ code }: { code: string }) => code)]];
        }),
      ),
    );
    expect(states).toEqual({
      over: ['booked'],
      production: ['needs-attention', 'plate-not-cleared'],
      trial: ['needs-attention', 'plate-not-measured'],
      attention: ['needs-attention', 'plate-not-cleared'],
      cancelled: ['cancelled'],
    });
  });

  it('tells their member and every steward, and the trail', async () => {
    for (const memberId of Object.values(members)) {
      const told = await database.query<{ href: string }>(
        `select href from notice where member_id = $1 and kind = 'booking-needs-attention' order by href`,
        [memberId],
      );
      expect(told.map(({ href }) => href)).toEqual(
        [bookings.production, bookings.trial].map((id) => `/bookings/${id}`).sort(),
      );
    }
    const trail = await database.query(
      `select subject_id as id from audit_entry where action = 'booking-needs-attention' order by 1`,
    );
    expect(trail).toEqual([bookings.production, bookings.trial].sort().map((id) => ({ id })));
    const { body } = await api.get('/api/v1/notices').set(wren).expect(200);
    expect(body.items.map(({ kind }: { kind: string }) => kind)).toContain('signed-off');
  });

  it('is read throughout: plate, revisions, checks, press, bolster, rules, week, trail', async () => {
    const plate = await api.get(`/api/v1/plates/${plateId}`).set(wren).expect(200);
    expect(plate.body).toMatchObject({ revision: 2, condition: 'not-cut', cleared: false });
    expect(plate.body.revisions).toHaveLength(2);
    for (const path of [
      `/plates/${plateId}/revisions/1/check?polymer=PP`,
      `/plates/${plateId}/revisions/2/check?polymer=PP`,
      `/plates/${plateId}/revisions/2/clearance`,
      '/plates',
      '/bookings',
      '/bolsters',
      '/press',
      '/shop-rules',
      '/inspections',
      '/outages',
      '/signoffs',
    ])
      expect([path, (await api.get(`/api/v1${path}`).set(wren)).status]).toEqual([path, 200]);
    expect((await api.get('/api/v1/trail').set(odile)).status).toBe(200);
  });

  it('has its bookings fit again once the plate is cleared', async () => {
    await clearPlate(house, { plateId, revision: 2 });
    for (const id of [bookings.production, bookings.trial, bookings.attention]) {
      const { body } = await api.get(`/api/v1/bookings/${id}`).set(wren).expect(200);
      expect([body.status, body.attention]).toEqual(['booked', []]);
    }
  });
});
