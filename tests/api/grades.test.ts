import supertest from 'supertest';
import { beforeAll, describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { signedInMember } from '../support/sign-in.js';

const house = await testHouse(await testDatabase());
const api = supertest(house.url);
let steward: { readonly authorization: string };
let member: { readonly authorization: string };

beforeAll(async () => {
  await furnishPress(house.database, LONG_AGO);
  steward = (await signedInMember(house, 'steward')).headers;
  member = (await signedInMember(house, 'member')).headers;
});

const SETTING = { meltMinC: 200, meltMaxC: 240, mouldMinC: 25, mouldMaxC: 50, ejectionC: 80 };
const sheet = { sheetTitle: 'Ferry PP 12, processing guide', sheetDate: '2020-03-01' };
let named = 0;

function grade(change: object = {}) {
  named += 1;
  return { name: `Ferry PP ${named}`, polymer: 'PP', ...sheet, figures: SETTING, ...change };
}

const add = (body: object, headers = steward) => api.post('/api/v1/grades').set(headers).send(body);

describe('grades of the house', () => {
  it('are added by a steward with their data sheet, and read by everybody signed in', async () => {
    const made = await add(grade({ polymer: 'pe-hd', name: 'Slipway HD' })).expect(201);
    expect(made.body).toMatchObject({ name: 'Slipway HD', polymer: 'HDPE', version: 1, why: null, ...sheet });
    expect(made.body.figures).toMatchObject({ ...SETTING, dryingHours: null });
    const list = await api.get('/api/v1/grades').set(member).expect(200);
    expect(list.body.items.map(({ name }: { name: string }) => name)).toContain('Slipway HD');
    await api.get('/api/v1/grades').expect(401);
    await add(grade(), member).expect(403);
  });

  it('come in versions with a reason; the earlier one stays as it was', async () => {
    const { body } = await add(grade()).expect(201);
    const path = `/api/v1/grades/${body.id}`;
    const next = { basedOn: 1, why: 'A later sheet', ...sheet, sheetDate: '2024-05-06', figures: SETTING };
    const made = await api.post(`${path}/versions`).set(steward).send(next).expect(201);
    expect(made.body).toMatchObject({ version: 2, why: 'A later sheet', sheetDate: '2024-05-06' });
    const versions = await api.get(`${path}/versions`).set(member).expect(200);
    expect(
      versions.body.items.map((one: { version: number; sheetDate: string }) => [one.version, one.sheetDate]),
    ).toEqual([
      [2, '2024-05-06'],
      [1, '2020-03-01'],
    ]);
    const stale = await api.post(`${path}/versions`).set(steward).send(next).expect(409);
    expect(stale.body.reasons[0].code).toBe('changed-meanwhile');
    const same = await api
      .post(`${path}/versions`)
      .set(steward)
      .send({ ...next, basedOn: 2 })
      .expect(422);
    expect(same.body.reasons[0].code).toBe('version-unchanged');
  });

  it('two who make the same version: one does, the other is told', async () => {
    const { body } = await add(grade()).expect(201);
    const send = (title: string) =>
      api
        .post(`/api/v1/grades/${body.id}/versions`)
        .set(steward)
        .send({ basedOn: 1, why: 'Read again', ...sheet, sheetTitle: title, figures: SETTING });
    const replies = await Promise.all(['One', 'Two', 'Three'].map(send));
    expect(replies.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
  });

  it.each([
    ['an unknown polymer', { polymer: 'XYZ' }, 'polymer-unknown', 'polymer'],
    ['melt at 900 °C', { figures: { ...SETTING, meltMaxC: 900 } }, 'grade-figure-absurd', 'figures.meltMaxC'],
    [
      'a density of 9',
      { figures: { ...SETTING, densityGPerCm3: 9 } },
      'grade-figure-absurd',
      'figures.densityGPerCm3',
    ],
    ['120 % of filler', { fillerPercent: 120 }, 'grade-figure-absurd', 'fillerPercent'],
    ['a mould without the melt', { figures: { mouldMinC: 20 } }, 'grade-figure-missing', 'figures.meltMinC'],
    ['hours without heat', { figures: { dryingHours: 3 } }, 'grade-figure-missing', 'figures.dryingC'],
    [
      'a range turned round',
      { figures: { ...SETTING, meltMaxC: 190 } },
      'grade-range-turned',
      'figures.meltMaxC',
    ],
    [
      'a mould hotter than ejection',
      { figures: { ...SETTING, mouldMaxC: 85 } },
      'grade-mould-too-hot',
      'figures.mouldMaxC',
    ],
    [
      'a part that still flows',
      { figures: { ...SETTING, ejectionC: 160 } },
      'grade-ejected-soft',
      'figures.ejectionC',
    ],
    [
      'melt under the point of no flow',
      { polymer: 'PA66', figures: { ...SETTING, ejectionC: 120 } },
      'grade-melt-too-cold',
      'figures.meltMinC',
    ],
    [
      'acetal at 255 °C',
      { polymer: 'POM', figures: { ...SETTING, meltMaxC: 255 } },
      'grade-melt-too-hot',
      'figures.meltMaxC',
    ],
    ['recyclate that says nothing', { isPostConsumer: true }, 'recyclate-says-nothing', 'note'],
    ['a sheet of next century', { sheetDate: '2126-01-01' }, 'grade-sheet-to-come', 'sheetDate'],
  ])('refuses %s and says what could be', async (_, change, code, field) => {
    const reply = await add(grade(change)).expect(422);
    const reason = reply.body.reasons.find((one: { code: string }) => one.code === code);
    expect(reason).toMatchObject({ code, field });
    expect(`${reason.message} ${reason.fix}`).not.toMatch(/undefined|null|NaN| {2}/);
  });

  it('tells everything that is wrong at once', async () => {
    const figures = { ...SETTING, densityGPerCm3: 0.1, residenceMin: 5000 };
    const reply = await add(grade({ figures, fillerPercent: 90 })).expect(422);
    expect(reply.body.reasons.map(({ field }: { field: string }) => field).sort()).toEqual([
      'figures.densityGPerCm3',
      'figures.residenceMin',
      'fillerPercent',
    ]);
  });

  it('have names that can be told apart', async () => {
    const one = grade();
    await add(one).expect(201);
    const reply = await add({ ...one, name: one.name.toUpperCase() }).expect(409);
    expect(reply.body.reasons[0]).toMatchObject({ code: 'grade-name-taken', field: 'name' });
  });

  it('are told in the trail', async () => {
    const one = grade();
    const { body } = await add(one).expect(201);
    const rows = await house.database.query<{ action: string }>(
      'select action from audit_entry where subject_id = $1',
      [body.id],
    );
    expect(rows).toEqual([{ action: 'grade-added' }]);
  });
});

describe('the database keeps grades as they were', () => {
  const refusedBy = async (sql: string, values: readonly (string | number | null)[]) => {
    const error = await house.database.query(sql, values).then(
      () => undefined,
      (thrown: unknown) => thrown,
    );
    return pgFaultOf(error)?.constraint;
  };

  const VERSION = `insert into resin_grade_version (grade_id, version, sheet_title, sheet_date, halogenated,
    filler_percent, melt_min_c, melt_max_c, mould_min_c, mould_max_c, ejection_c, note, why, made_by, made_at)
    select id, $2, 'Sheet', '2020-01-01', false, $3, $4, $5, $6, $7, $8, '', $9, created_by, created_at
    from resin_grade where id = $1`;

  it.each([
    ['a version that skips one', [3, 0, null, null, null, null, null, 'Why'], 'resin_grade_version_follows'],
    ['the same version twice', [1, 0, null, null, null, null, null, null], 'resin_grade_version_pkey'],
    ['a change without a reason', [2, 0, null, null, null, null, null, null], 'resin_grade_version_says_why'],
    ['too much filler', [2, 71, null, null, null, null, null, 'Why'], 'resin_grade_version_filler'],
    ['half a set', [2, 0, 200, 240, null, null, null, 'Why'], 'resin_grade_version_set_whole'],
    ['a mould hotter than ejection', [2, 0, 200, 240, 30, 90, 80, 'Why'], 'resin_grade_version_set_order'],
  ])('refuses %s', async (_, values, constraint) => {
    const { body } = await add(grade()).expect(201);
    expect(await refusedBy(VERSION, [body.id, ...values])).toBe(constraint);
  });

  it('refuses recyclate that says nothing of itself', async () => {
    const { body } = await add(
      grade({ isPostConsumer: true, note: 'Washed at 60 °C, sieved, batch 4' }),
    ).expect(201);
    const values = [body.id, 2, 0, null, null, null, null, null, 'Why'];
    expect(await refusedBy(VERSION, values)).toBe('resin_grade_version_recyclate_note');
  });

  it.each(['resin_grade', 'resin_grade_version'])(
    '%s is added to, never changed or emptied',
    async (table) => {
      const key = table === 'resin_grade' ? 'id' : 'grade_id';
      const { body } = await add(grade()).expect(201);
      const changed = table === 'resin_grade' ? `name = 'Another'` : `note = 'Another'`;
      expect(await refusedBy(`update ${table} set ${changed} where ${key} = $1`, [body.id])).toBe(
        `${table}_append_only`,
      );
      expect(await refusedBy(`delete from ${table} where ${key} = $1`, [body.id])).toBe(
        `${table}_append_only`,
      );
      expect(await refusedBy(`truncate ${table} cascade`, [])).toMatch(/^resin_grade/);
    },
  );
});

describe('a check by grade', () => {
  const asked = async (resin: object, headers: { readonly [name: string]: string } = { ...member }) =>
    api.post('/api/v1/checks').set(headers).send({ plate: plateBody(), resin });
  const finding = (reply: { body: { findings: { check: string }[] } }, check: string) =>
    reply.body.findings.find((one) => one.check === check);

  it('goes by what the data sheet says, and names it', async () => {
    const figures = { shrinkageMinPercent: 1.4, shrinkageMaxPercent: 1.6, dryingC: 70, dryingHours: 3 };
    const { body } = await add(grade({ figures })).expect(201);
    const reply = await asked({ gradeId: body.id });
    expect(reply.status).toBe(200);
    expect(reply.body.polymer).toBe('PP');
    expect(finding(reply, 'shrinkage')).toMatchObject({
      figures: { minPercent: 1.4, maxPercent: 1.6 },
      source: `shrinkage of PP: data sheet: ${sheet.sheetTitle}, ${sheet.sheetDate}`,
    });
    expect(finding(reply, 'drying')).toMatchObject({ verdict: 'clear', situation: 'dry-first', figure: 3 });
    expect(finding(await asked({ polymer: 'PP' }), 'drying')).toMatchObject({ verdict: 'clear' });
  });

  it('recyclate is not known to be dry', async () => {
    const { body } = await add(grade({ isPostConsumer: true, note: 'Washed caps', figures: {} })).expect(201);
    expect(finding(await asked({ gradeId: body.id }), 'drying')).toMatchObject({ verdict: 'unknown' });
  });

  it('is not there for strangers, nor for a grade that is not; and never beside a polymer', async () => {
    const { body } = await add(grade()).expect(201);
    expect((await asked({ gradeId: body.id }, {})).status).toBe(404);
    expect((await asked({ gradeId: '00000000-0000-4000-8000-000000000000' })).status).toBe(404);
    expect((await asked({ gradeId: body.id, polymer: 'PP' })).status).toBe(400);
  });
});
