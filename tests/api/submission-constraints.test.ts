import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { testDatabase } from '../support/database.js';
import { plainPlate, plainRows } from '../support/plain-rows.js';

const database = await testDatabase();
const rows = await plainRows(database);

/** The name of the constraint that a change is refused by. */
async function refusedBy(sql: string, values: readonly (string | number | null)[] = []) {
  const error = await database.query(sql, [...values]).then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  return pgFaultOf(error)?.constraint;
}

const PHOTOGRAPH = `insert into photograph (plate_id, revision, bolster_id, caption, whole, thumb, width_px, height_px,
  kept_by, kept_at) values ($1, $2, $3, $4, decode($5, 'hex'), decode($5, 'hex'), $6, 1, $7, now())`;

describe('plates', () => {
  it.each([
    ["sharing = 'all'", 'plate_sharing'],
    ["condition = 'lost'", 'plate_condition'],
    ["place = '  '", 'plate_place_length'],
    ["condition_note = ''", 'plate_condition_note_length'],
    ['retired_at = now()', 'plate_retired_told'],
  ])('are not changed to %s', async (set, constraint) => {
    expect(await refusedBy(`update plate set ${set} where id = $1`, [rows.plateId])).toBe(constraint);
  });

  it('are retired, never deleted', async () => {
    expect(await refusedBy('delete from plate where id = $1', [rows.plateId])).toBe('plate_append_only');
    expect(await refusedBy('truncate plate cascade')).toBe('plate_append_only');
  });

  it('get no revision while they are retired', async () => {
    const plateId = await plainPlate(database, rows.memberId);
    await database.query('update plate set retired_at = now(), retired_by = $2 where id = $1', [
      plateId,
      rows.memberId,
    ]);
    expect(await refusedBy(revisionWith('facts', 2), [plateId])).toBe('plate_revision_not_retired');
  });

  it.each([
    [
      'a facing plate that is not there',
      `facts || '{"facingPartId": "00000000-0000-4000-8000-000000000000", "facingThicknessMm": 5}'`,
    ],
    [
      'a packer that is not there',
      `facts || '{"packerPartIds": ["00000000-0000-4000-8000-000000000000"], "packerThicknessMm": 5}'`,
    ],
  ])('name no %s', async (_what, facts) => {
    const plateId = await plainPlate(database, rows.memberId);
    expect(await refusedBy(revisionWith(facts, 2), [plateId])).toBe('plate_revision_parts');
  });

  it('name no part as thicker than it is, none that is retired, none twice', async () => {
    const plateId = await plainPlate(database, rows.memberId);
    const part = async (state: string) => {
      const [row] = await database.query<{ id: string }>(
        `insert into stack_part (kind, name, thickness_mm, width_mm, height_mm, material, place, note, state, created_at)
         values ('packer', $1, 4, 100, 100, 'steel', '', '', $1, now()) returning id`,
        [state],
      );
      return row?.id ?? '';
    };
    const [inService, retired] = [await part('in-service'), await part('retired')];
    const named = (ids: readonly string[], thicknessMm: number) =>
      refusedBy(
        revisionWith(
          `facts || '${JSON.stringify({ packerPartIds: ids, packerThicknessMm: thicknessMm })}'`,
          2,
        ),
        [plateId],
      );
    expect(await named([inService], 5)).toBe('plate_revision_parts');
    expect(await named([retired], 4)).toBe('plate_revision_parts');
    expect(await named([inService, inService], 8)).toBe('plate_revision_parts');
    expect(await named([inService], 4)).toBeUndefined();
  });
});

function revisionWith(facts: string, revision: number): string {
  return `insert into plate_revision (plate_id, revision, dxf, dxf_sha256, file_name, facts, created_by, created_at)
    select plate_id, ${revision}, dxf, dxf_sha256, file_name, ${facts}, created_by, created_at
    from plate_revision where plate_id = $1 and revision = 1`;
}

describe('photographs', () => {
  const keep = (given: {
    plateId?: string | null;
    revision?: number | null;
    caption?: string;
    hex?: string;
    widthPx?: number;
  }) => {
    const { plateId = rows.plateId, revision = 1, caption = '', hex = 'ffd8ff00', widthPx = 1 } = given;
    return refusedBy(PHOTOGRAPH, [plateId, revision, null, caption, hex, widthPx, rows.memberId]);
  };

  it('are of one thing, of a revision that there is, and JPEG of ours', async () => {
    expect(await keep({ plateId: null, revision: null })).toBe('photograph_of_one');
    expect(await keep({ revision: null })).toBe('photograph_revision');
    expect(await keep({ revision: 9 })).toBe('photograph_revision');
    expect(await keep({ hex: '89504e470d0a1a0a' })).toMatch(/^photograph_(whole|thumb)_jpeg$/);
    expect(await keep({ widthPx: 1601 })).toBe('photograph_width');
    expect(await keep({ caption: 'x'.repeat(201) })).toBe('photograph_caption_length');
    expect(await keep({})).toBeUndefined();
  });

  it('are removed once, whole, and nothing else of them changes', async () => {
    const change = (set: string) =>
      refusedBy(`update photograph set ${set} where plate_id = $1`, [rows.plateId]);
    const by = `removed_at = now(), removed_by = '${rows.memberId}'`;
    expect(await change("caption = 'other'")).toBe('photograph_only_removed');
    expect(await change(`${by}, whole = null`)).toBe('photograph_shown_until_removed');
    expect(await change(`${by}, whole = null, thumb = null, width_px = 2`)).toBe('photograph_only_removed');
    expect(await change(`${by}, whole = null, thumb = null`)).toBeUndefined();
    expect(await change(`${by}, whole = null, thumb = null`)).toBe('photograph_only_removed');
    expect(await refusedBy('delete from photograph')).toBe('photograph_append_only');
    expect(await refusedBy('truncate photograph cascade')).toBe('photograph_append_only');
  });
});
