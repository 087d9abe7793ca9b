import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { testDatabase } from '../support/database.js';
import { plainRows } from '../support/plain-rows.js';

const database = await testDatabase();
const { pressId, equipmentId, memberId } = await plainRows(database);

async function refusedBy(sql: string, values: readonly (string | number | null)[] = []) {
  const error = await database.query(sql, values).then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  return pgFaultOf(error)?.constraint;
}

/** The only row of a table, put in by plain SQL. */
async function put(sql: string, values: readonly (string | number | null)[]): Promise<string> {
  const [row] = await database.query<{ id: string }>(`${sql} returning id`, values);
  return row?.id ?? '';
}

const NEXT_BOLSTER_VERSION = (more: string, step = 1) =>
  `insert into bolster_version
   select (jsonb_populate_record(v, to_jsonb(v) || jsonb_build_object('version', v.version + ${step}) || '${more}')).*
   from bolster_version v order by v.version desc limit 1`;
const NEXT_PRESS_VERSION = (more: string, step = 1) =>
  `insert into press_version
   select (jsonb_populate_record(v, to_jsonb(v) || jsonb_build_object('version', v.version + ${step}) || '${more}')).*
   from press_version v order by v.version desc limit 1`;

describe('versions of press and bolster', () => {
  it.each([
    [NEXT_BOLSTER_VERSION('{}', 2), 'bolster_version_follows'],
    [NEXT_BOLSTER_VERSION('{}', 0), 'bolster_version_pkey'],
    [NEXT_BOLSTER_VERSION('{"half_moving_mm": 60, "half_fixed_mm": null}'), 'bolster_version_halves_whole'],
    [NEXT_BOLSTER_VERSION('{"half_moving_mm": 0}'), 'bolster_version_half_moving'],
    [NEXT_BOLSTER_VERSION('{"half_fixed_mm": -1}'), 'bolster_version_half_fixed'],
    [NEXT_BOLSTER_VERSION('{"why": " "}'), 'bolster_version_why_length'],
    [NEXT_PRESS_VERSION('{}', 2), 'press_version_follows'],
    [NEXT_PRESS_VERSION('{}', 0), 'press_version_pkey'],
    [NEXT_PRESS_VERSION('{"intensification": 0}'), 'press_version_intensification'],
    [NEXT_PRESS_VERSION('{"platen_thickness_mm": 0}'), 'press_version_platen_thickness'],
    [NEXT_PRESS_VERSION('{"dry_cycle_s": 0}'), 'press_version_dry_cycle'],
    [NEXT_PRESS_VERSION('{"chiller_flow_l_per_min": null}'), 'press_version_chiller_whole'],
    [NEXT_PRESS_VERSION('{"chiller_flow_l_per_min": 0}'), 'press_version_chiller_flow'],
    [NEXT_PRESS_VERSION('{"chiller_water_c": 120}'), 'press_version_chiller_water'],
    [NEXT_PRESS_VERSION('{"why": ""}'), 'press_version_why_length'],
  ])('cannot be %s', async (sql, constraint) => {
    expect(await refusedBy(sql)).toBe(constraint);
  });
});

describe('what went into the press', async () => {
  const [bolster] = await database.query<{ id: string }>('select id from bolster where not mounted');
  const PUT = `insert into mounting (press_id, bolster_id, why, mounted_by, mounted_at) values ($1, $2, $3, $4, $5)`;
  const at = '2026-11-25T10:00:00Z';

  it('is a bolster of that press, with a reason, and stays told', async () => {
    const other = await put(`insert into press (name) values ($1)`, ['Other']);
    expect(await refusedBy(PUT, [other, bolster?.id ?? '', 'Why', memberId, at])).toBe('mounting_bolster');
    expect(await refusedBy(PUT, [pressId, bolster?.id ?? '', ' ', memberId, at])).toBe('mounting_why_length');
    await put(PUT, [pressId, bolster?.id ?? '', 'Why', memberId, at]);
    expect(await refusedBy(`update mounting set why = 'Other'`)).toBe('mounting_append_only');
    expect(await refusedBy('delete from mounting')).toBe('mounting_append_only');
  });

  it('is one bolster at a time', async () => {
    expect(await refusedBy('update bolster set mounted = true')).toBe('bolster_one_mounted');
  });
});

describe('a time out of service', () => {
  const PUT = `insert into outage (equipment_id, starts_at, ends_at, reason, made_by, created_at)
    values ($1, $2, $3, $4, $5, '2026-11-25T10:00:00Z')`;
  const values = (from: string, to: string, reason = 'Oil') => [
    equipmentId,
    `2026-12-${from}:00Z`,
    `2026-12-${to}:00Z`,
    reason,
    memberId,
  ];

  it('has an order and a reason, and there is one at a time', async () => {
    expect(await refusedBy(PUT, values('01T12:00', '01T09:00'))).toBe('outage_order');
    expect(await refusedBy(PUT, values('01T09:00', '01T12:00', ' '))).toBe('outage_reason_length');
    await put(PUT, values('01T09:00', '01T12:00'));
    expect(await refusedBy(PUT, values('01T11:00', '01T13:00'))).toBe('outage_no_overlap');
  });

  it('holds its time whoever put it in, so that nobody else can', async () => {
    const id = await put(PUT, values('02T09:00', '02T12:00'));
    const take = `insert into reservation (equipment_id, starts_at, ends_at, purpose)
      values ($1, '2026-12-02T10:00:00Z', '2026-12-02T11:00:00Z', 'closure')`;
    expect(await refusedBy(take, [equipmentId])).toBe('reservation_no_overlap');
    await database.query(`update outage set ended_at = '2026-11-26T10:00:00Z', ended_by = $2 where id = $1`, [
      id,
      memberId,
    ]);
    expect(await refusedBy(take, [equipmentId])).toBeUndefined();
  });

  it('takes over what a reservation inside it gives back, by release or by moving, and no more', async () => {
    const [row] = await database.query<{ id: string }>(
      `insert into reservation (equipment_id, starts_at, ends_at, purpose, note)
       values ($1, '2026-12-05T10:00:00Z', '2026-12-05T12:00:00Z', 'closure', 'Ours') returning id`,
      [equipmentId],
    );
    const outage = await put(PUT, values('05T09:00', '05T13:00'));
    const held = async () =>
      (
        await database.query<{ span: string }>(
          `select to_char(starts_at, 'HH24:MI') || '-' || to_char(ends_at, 'HH24:MI') as span from reservation
           where outage_id = $1 and released_at is null order by starts_at`,
          [outage],
        )
      ).map(({ span }) => span);
    expect(await held()).toEqual(['09:00-10:00', '12:00-13:00']);
    await database.query(`update reservation set starts_at = '2026-12-05T11:00:00Z' where id = $1`, [
      row?.id ?? '',
    ]);
    expect(await held()).toEqual(['09:00-10:00', '10:00-11:00', '12:00-13:00']);
    await database.query('update reservation set released_at = now() where id = $1', [row?.id ?? '']);
    expect(await held()).toEqual(['09:00-10:00', '10:00-11:00', '11:00-12:00', '12:00-13:00']);
  });

  it('is ended once and told for good', async () => {
    expect(await refusedBy(`update outage set reason = 'Other'`)).toBe('outage_kept');
    expect(await refusedBy('delete from outage')).toBe('outage_kept');
    expect(
      await refusedBy(`update outage set ended_at = '2026-11-27T10:00:00Z' where ended_at is null`),
    ).toBe('outage_end_told');
    expect(
      await refusedBy(
        `update outage set ended_at = '2020-01-01T10:00:00Z', ended_by = made_by where ended_at is null`,
      ),
    ).toBe('outage_ended_after_made');
    expect(
      await refusedBy('update outage set ended_at = null, ended_by = null where ended_at is not null'),
    ).toBe('outage_kept');
    expect(
      await refusedBy(
        `insert into reservation (equipment_id, starts_at, ends_at, purpose, outage_id)
         select equipment_id, '2027-01-01', '2027-01-02', 'closure', id from outage limit 1`,
      ),
    ).toBe('reservation_outage_told');
  });
});

describe('an inspection', () => {
  const PUT = `insert into inspection (press_id, inspected_on, inspected_by, interval_months, due_at, note, recorded_by,
    recorded_at) values ($1, $2, $3, $4, $5, $6, $7, '2026-11-25T10:00:00Z')`;
  const values = (more: { on?: string; by?: string; months?: number; due?: string; note?: string }) => {
    const { on = '2026-11-01', by = 'Ash', months = 12, due = '2027-11-02', note = 'Good' } = more;
    return [pressId, on, by, months, due, note, memberId];
  };

  it.each([
    [{ by: ' ' }, 'inspection_inspected_by_length'],
    [{ months: 0 }, 'inspection_interval'],
    [{ due: '2026-10-01' }, 'inspection_due_after'],
    [{ note: '' }, 'inspection_note_length'],
    [{ on: '2026-12-01' }, 'inspection_not_ahead'],
  ])('cannot be %o', async (more, constraint) => {
    expect(await refusedBy(PUT, values(more))).toBe(constraint);
  });

  it('stays as it was recorded', async () => {
    await put(PUT, values({}));
    expect(await refusedBy(`update inspection set due_at = '2030-01-01'`)).toBe('inspection_append_only');
    expect(await refusedBy('delete from inspection')).toBe('inspection_append_only');
  });
});

describe('a facing plate or packer', () => {
  const PUT = `insert into stack_part (kind, name, thickness_mm, width_mm, height_mm, material, parallel_within_mm, place,
    note, created_at) values ($1, $2, $3, $4, 120, 'steel', $5, '', '', '2026-11-25T10:00:00Z')`;

  it.each([
    [['shim', 'A', 8, 150, null], 'stack_part_kind'],
    [['packer', ' ', 8, 150, null], 'stack_part_name_length'],
    [['packer', 'A', 0, 150, null], 'stack_part_thickness'],
    [['packer', 'A', 8, 0, null], 'stack_part_width'],
    [['packer', 'A', 8, 150, -1], 'stack_part_parallel'],
  ])('cannot be %o', async (values, constraint) => {
    expect(await refusedBy(PUT, values)).toBe(constraint);
  });

  it('keeps its metal, counts its edits, and its name is its own while it is in service', async () => {
    const id = await put(PUT, ['packer', 'Packer 8', 8, 150, null]);
    expect(await refusedBy(PUT, ['facing', 'PACKER 8', 3, 150, null])).toBe('stack_part_name_once');
    const change = (set: string) => refusedBy(`update stack_part set ${set} where id = $1`, [id]);
    expect(await change('thickness_mm = 7.5, edition = 2')).toBe('stack_part_kept');
    expect(await change(`place = 'Bay 2'`)).toBe('stack_part_kept');
    expect(await change(`state = 'lent', edition = 2`)).toBe('stack_part_state');
    expect(await refusedBy('delete from stack_part')).toBe('stack_part_kept');
    expect(await change(`state = 'retired', edition = 2`)).toBeUndefined();
    expect(await refusedBy(PUT, ['facing', 'PACKER 8', 3, 150, null])).toBeUndefined();
  });
});
