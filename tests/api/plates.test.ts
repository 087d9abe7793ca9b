import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import type { Actor } from '../../server/context.js';
import { checkReportSchema } from '../../server/plates/check-report-schema.js';
import { keepPlate } from '../../server/plates/keep.js';
import { platesReply, wholePlateReply } from '../../server/plates/schemas.js';
import { Refusal } from '../../server/reasons.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { samplePlate } from '../support/gullwing.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody, sampleDxf, usualFacts } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const { keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);

const wren = await signedInMember(house);
const tamsin = await signedInMember(house);
const odile = await signedInMember(house, 'steward');

function submit(body: object, headers: Record<string, string> = wren.headers) {
  return api.post('/api/v1/plates').set(headers).send(body);
}

async function rowsStored(): Promise<number> {
  const [row] = await database.query<{ rows: number }>(
    'select (select count(*) from plate) + (select count(*) from plate_revision) as rows',
  );
  return row?.rows ?? 0;
}

describe('a plate', () => {
  it('is kept with its drawing and facts as revision 1', async () => {
    const reply = await submit({ name: '  Tile spacer ', ...plateBody() }).expect(201);
    const plate = wholePlateReply.decode(reply.body);
    expect(plate).toMatchObject({
      name: 'Tile spacer',
      ownerId: wren.member.id,
      revision: 1,
      cleared: false,
    });
    expect(plate.revisions).toMatchObject([{ revision: 1, fileName: 'Tile spacer.dxf', thicknessMm: 16 }]);
    expect(reply.headers.location).toBe(`/api/v1/plates/${plate.id}`);
    const again = await api.get(`/api/v1/plates/${plate.id}`).set(wren.headers).expect(200);
    const { sameDrawing, ...kept } = reply.body;
    expect(again.body).toEqual(kept);
    expect(sameDrawing).toEqual([]);
    const trail = await database.query('select action from audit_entry where subject_id = $1', [plate.id]);
    expect(trail).toEqual([{ action: 'plate-submitted' }]);
  });

  it('may be written as a check request writes it', async () => {
    const reply = await submit({ name: 'Nested', plate: plateBody() }).expect(201);
    expect(reply.body.revisions[0]).toMatchObject({ thicknessMm: 16, alloy: 'EN AW-6082-T6' });
  });

  it('keeps draft, cutters and the screws of a group of holes', async () => {
    const screw = { size: 'M5', lengthMm: 20 };
    const more = { draftDeg: 1, cutters: [{ diameterMm: 3 }], screwGroups: [{ holeDiameterMm: 5.5, screw }] };
    const reply = await submit({ name: 'With draft', ...plateBody('tile-spacer-4up', more) }).expect(201);
    expect(reply.body.revisions[0]).toMatchObject({
      draftDeg: 1,
      cutters: [{ feature: null, form: null, diameterMm: 3, taperDeg: null }],
      screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: { ...screw, headSinkDepthMm: null } }],
    });
  });

  it('is refused with screws for a hole that its drawing does not have, as a plate, a revision and a check', async () => {
    const screwGroups = [{ holes: [2, 40], screw: { size: 'M5', lengthMm: 20 } }];
    const body = plateBody('tile-spacer-4up', { screwGroups });
    const { body: kept } = await submit({ name: 'Before', ...plateBody() }).expect(201);
    const before = await rowsStored();
    const replies = [
      await submit({ name: 'One hole too many', ...body }).expect(422),
      await api.post(`/api/v1/plates/${kept.id}/revisions`).set(wren.headers).send(body).expect(422),
      await api
        .post('/api/v1/checks')
        .send({ plate: body, resin: { polymer: 'PP' } })
        .expect(422),
    ];
    expect(replies.map(({ body: { reasons } }) => reasons[0])).toMatchObject([
      { code: 'screw-hole-not-drawn', field: 'screwGroups.0.holes' },
      { code: 'screw-hole-not-drawn', field: 'screwGroups.0.holes' },
      { code: 'screw-hole-not-drawn', field: 'plate.screwGroups.0.holes' },
    ]);
    expect(replies[0]?.body.reasons[0].message).toMatch(/hole 40, and \d+ are drawn/);
    expect(await rowsStored()).toBe(before);
  });

  it('reads facts that were kept before draft and cutters could be said', async () => {
    const { body } = await submit({ name: 'Of before', ...plateBody() }).expect(201);
    const [row] = await database.query<{ facts: object }>(
      `insert into plate_revision (plate_id, revision, dxf, dxf_sha256, file_name, facts, created_by, created_at)
       select plate_id, 2, dxf, dxf_sha256, file_name, facts - 'draftDeg' - 'cutters' - 'screwGroups', created_by,
         created_at from plate_revision where plate_id = $1
       returning facts`,
      [body.id],
    );
    expect(row?.facts).not.toHaveProperty('cutters');
    const reply = await api.get(`/api/v1/plates/${body.id}`).set(wren.headers).expect(200);
    expect(reply.body.revisions[0]).toMatchObject({
      revision: 2,
      draftDeg: null,
      cutters: [],
      screwGroups: [],
    });
  });

  it('may come as a form with its file, and gives back the very bytes under a safe name', async () => {
    const bytes = Buffer.from(sampleDxf('bike-shim-r12'), 'latin1');
    const reply = await api
      .post('/api/v1/plates')
      .set(wren.headers)
      .field({ name: 'Bike shim', thicknessMm: '16,0', alloy: 'EN AW-6082-T6' })
      .field({ 'screw.size': 'M6', 'screw.lengthMm': '20', 'screw.headSinkDepthMm': '7' })
      .attach('dxf', bytes, { filename: '../../sh"im\r\nü.dxf' })
      .expect(201);
    expect(reply.body.revisions[0]).toMatchObject({ thicknessMm: 16, screw: { size: 'M6', lengthMm: 20 } });
    const drawing = await api
      .get(`/api/v1/plates/${reply.body.id}/revisions/1/drawing`)
      .set(wren.headers)
      .buffer(true)
      .parse((response, done) => {
        const parts: Buffer[] = [];
        response.on('data', (part: Buffer) => parts.push(part));
        response.on('end', () => done(null, Buffer.concat(parts)));
      })
      .expect(200);
    expect(bytes.equals(drawing.body)).toBe(true);
    expect(drawing.headers['x-content-type-options']).toBe('nosniff');
    expect(drawing.headers['content-disposition']).toMatch(
      /^attachment; filename="[\w .-]+\.dxf"; filename\*=UTF-8''/,
    );
  });

  it('is kept once for an Idempotency-Key', async () => {
    const headers = { ...wren.headers, 'idempotency-key': 'tile' };
    const first = await submit({ name: 'Once', ...plateBody() }, headers).expect(201);
    const second = await submit({ name: 'Once', ...plateBody() }, headers).expect(201);
    expect(second.body).toEqual(first.body);
    expect(codesOf(await submit({ name: 'Twice', ...plateBody() }, headers))).toEqual([
      'idempotency-key-reused',
    ]);
  });
});

describe('a plate is refused, and nothing is kept', () => {
  it.each<[string, object, number, string]>([
    ['without a name', plateBody(), 400, 'field-invalid'],
    ['with a blank name', { name: '   ', ...plateBody() }, 400, 'field-invalid'],
    ['with a name of 81 characters', { name: 'x'.repeat(81), ...plateBody() }, 400, 'field-invalid'],
    ['with NUL in its name', { name: 'a\u0000b', ...plateBody() }, 400, 'field-invalid'],
    ['with half a character in its name', { name: 'a\ud800', ...plateBody() }, 400, 'field-invalid'],
    ['without a drawing', { name: 'Tile', ...usualFacts }, 400, 'field-invalid'],
    [
      'without a screw',
      { name: 'Tile', ...plateBody('tile-spacer-4up', { screw: undefined }) },
      400,
      'field-invalid',
    ],
    [
      'with thickness 0',
      { name: 'Tile', ...plateBody('tile-spacer-4up', { thicknessMm: 0 }) },
      422,
      'plate-facts-absurd',
    ],
    ['with an open contour', { name: 'Tile', ...plateBody('open-contour') }, 422, 'drawing-contour-open'],
    ['without a feed', { name: 'Tile', ...plateBody('no-feed') }, 422, 'drawing-no-feed'],
  ])('%s', async (_what, body, status, code) => {
    const before = await rowsStored();
    const reply = await submit(body);
    expect({ status: reply.status, code: codesOf(reply)[0] }).toEqual({ status, code });
    expect(await rowsStored()).toBe(before);
  });

  it('to who is not signed in', async () => {
    expect((await submit({ name: 'Tile', ...plateBody() }, {})).status).toBe(401);
  });

  it('as a form whose file is over 8 MiB', async () => {
    const before = await rowsStored();
    const reply = await api
      .post('/api/v1/plates')
      .set(wren.headers)
      .field({ name: 'Huge' })
      .attach('dxf', Buffer.alloc(8 * 1024 * 1024 + 1, 32), { filename: 'huge.dxf' });
    expect(reply.status).toBe(413);
    expect(await rowsStored()).toBe(before);
  });
});

describe('a plate’s name', () => {
  it('is changed by its owner alone, and the trail tells it', async () => {
    const { body } = await api
      .post('/api/v1/plates')
      .set(wren.headers)
      .send({ name: 'Old', ...plateBody() });
    const address = `/api/v1/plates/${body.id}`;
    await api.patch(address).set(tamsin.headers).send({ name: 'Theirs' }).expect(404);
    await api.patch(address).set(wren.headers).send({ name: '' }).expect(400);
    const renamed = await api.patch(address).set(wren.headers).send({ name: 'New' }).expect(200);
    expect(renamed.body).toMatchObject({ id: body.id, name: 'New', revision: 1 });
    await api.patch(address).set(wren.headers).send({ name: 'New' }).expect(200);
    const told = await database.query(
      "select details from audit_entry where action = 'plate-renamed' and subject_id = $1",
      [body.id],
    );
    expect(told).toEqual([{ details: { from: 'Old', to: 'New' } }]);
  });
});

describe('revisions', () => {
  it('count up, the latest is the plate’s, and earlier ones stay as they were', async () => {
    const { body } = await submit({ name: 'Seed label', ...plateBody('seed-label-2up') }).expect(201);
    const add = (more: object) =>
      api
        .post(`/api/v1/plates/${body.id}/revisions`)
        .set(wren.headers)
        .send(plateBody('seed-label-2up', more));
    await add({ thicknessMm: 18 }).expect(201);
    const third = wholePlateReply.decode((await add({ thicknessMm: 20 }).expect(201)).body);
    expect(third.revision).toBe(3);
    expect(third.revisions.map(({ revision, thicknessMm }) => [revision, thicknessMm])).toEqual([
      [3, 20],
      [2, 18],
      [1, 16],
    ]);
  });

  it('come one after the other, however many are sent at once', async () => {
    const { body } = await submit({ name: 'Busy', ...plateBody() }).expect(201);
    const sent = await Promise.all(
      Array.from({ length: 8 }, () =>
        api.post(`/api/v1/plates/${body.id}/revisions`).set(wren.headers).send(plateBody()),
      ),
    );
    expect(sent.map(({ status }) => status)).toEqual(Array(8).fill(201));
    const revisions = sent.map((reply) => reply.body.revision as number).sort((a, b) => a - b);
    expect(revisions).toEqual([2, 3, 4, 5, 6, 7, 8, 9]);
  });

  it('are added by the owner alone', async () => {
    const { body } = await submit({ name: 'Mine', ...plateBody() }).expect(201);
    const add = (headers: Record<string, string>) =>
      api.post(`/api/v1/plates/${body.id}/revisions`).set(headers).send(plateBody());
    expect((await add(tamsin.headers)).status).toBe(404);
    expect((await add(odile.headers)).status).toBe(403);
  });
});

describe('the stored report of a revision', () => {
  it('is computed when it is asked for, and kept once for bolster and resin', async () => {
    const { body } = await submit({ name: 'Reported', ...plateBody() }).expect(201);
    const ask = (query: string) =>
      api.get(`/api/v1/plates/${body.id}/revisions/1/check?${query}`).set(wren.headers).expect(200);
    const replies = await Promise.all([ask('polymer=PP'), ask('polymer=PP'), ask('polymer=pp')]);
    const [first, ...others] = replies.map((reply) => checkReportSchema.parse(reply.body));
    for (const other of others) expect(other).toEqual(first);
    const keyed = checkReportSchema.parse((await ask(`polymer=PP&bolsterId=${keyedBolsterId}`)).body);
    expect(keyed.bolster.id).toBe(keyedBolsterId);
    await ask('polymer=PE-HD');
    const stored = await database.query('select polymer from plate_report where plate_id = $1 order by 1', [
      body.id,
    ]);
    expect(stored).toEqual([{ polymer: 'HDPE' }, { polymer: 'PP' }, { polymer: 'PP' }]);
  });

  it('has exactly what is documented', async () => {
    const { body } = await submit({ name: 'Documented', ...plateBody('bolt-off-grid') }).expect(201);
    for (const _asked of ['computed now', 'read again']) {
      const reply = await api
        .get(`/api/v1/plates/${body.id}/revisions/1/check?polymer=PP`)
        .set(wren.headers)
        .expect('content-type', 'application/json; charset=utf-8')
        .expect(200);
      expect(checkReportSchema.parse(reply.body)).toEqual(reply.body);
    }
  });

  it('says the same as a check of the same drawing', async () => {
    const { body } = await submit({ name: 'Same', ...plateBody('drawer-pull') }).expect(201);
    const stored = await api
      .get(`/api/v1/plates/${body.id}/revisions/1/check?polymer=PP`)
      .set(wren.headers)
      .expect(200);
    const checked = await api
      .post('/api/v1/checks')
      .send({ plate: plateBody('drawer-pull'), resin: { polymer: 'PP' } })
      .expect(200);
    expect(stored.body).toEqual(checked.body);
  });

  it.each([
    ['no polymer', '1/check', 400, 'field-invalid'],
    ['a polymer that is none', '1/check?polymer=butter', 422, 'polymer-unknown'],
    ['a revision that is none', '7/check?polymer=PP', 404, 'not-found'],
    ['revision 0', '0/check?polymer=PP', 404, 'not-found'],
    ['a word for a revision', 'latest/check?polymer=PP', 404, 'not-found'],
    ['a malformed bolster', '1/check?polymer=PP&bolsterId=1', 404, 'not-found'],
    ['the drawing of no revision', '7/drawing', 404, 'not-found'],
  ])('is refused for %s', async (_what, path, status, code) => {
    const { body } = await submit({ name: 'Asked', ...plateBody() }).expect(201);
    const reply = await api.get(`/api/v1/plates/${body.id}/revisions/${path}`).set(wren.headers);
    expect({ status: reply.status, code: codesOf(reply)[0] }).toEqual({ status, code });
  });
});

describe('others’ plates', () => {
  it('are not there for a member, and seen by a steward', async () => {
    const { body } = await submit({ name: 'Hidden', ...plateBody() }).expect(201);
    for (const path of ['', '/revisions/1/check?polymer=PP', '/revisions/1/drawing']) {
      await api.get(`/api/v1/plates/${body.id}${path}`).set(tamsin.headers).expect(404);
      await api.get(`/api/v1/plates/${body.id}${path}`).set(odile.headers).expect(200);
    }
    const list = await api.get('/api/v1/plates').set(tamsin.headers).expect(200);
    expect(list.body).toEqual({ items: [], next: null });
    const all = await api.get('/api/v1/plates').set(odile.headers).expect(200);
    expect(all.body.items).toContainEqual(
      expect.objectContaining({ id: body.id, ownerId: wren.member.id, name: 'Hidden' }),
    );
    const steward = visitorOf(house);
    await steward.signIn(odile.member);
    const page = await steward.get('/plates').expect(200);
    expect(page.text).toContain('<th scope="col">Owner</th>');
    expect(page.text).not.toContain(`/bookings/new?plateId=${body.id}`);
  });

  it.each(['plate', '00000000-0000-4000-8000-000000000000'])(
    'nor is what was never there: %s',
    async (id) => {
      await api.get(`/api/v1/plates/${id}`).set(wren.headers).expect(404);
      await api.post(`/api/v1/plates/${id}/revisions`).set(wren.headers).send(plateBody()).expect(404);
    },
  );
});

describe('the list of plates', () => {
  it('goes on page by page, newest first, none lost and none twice', async () => {
    const whole = platesReply.decode((await api.get('/api/v1/plates?limit=100').set(wren.headers)).body);
    const seen: string[] = [];
    let address: string | null = '/api/v1/plates?limit=3';
    while (address !== null) {
      const page = platesReply.decode((await api.get(address).set(wren.headers).expect(200)).body);
      seen.push(...page.items.map(({ id }) => id));
      address = page.next && `/api/v1/plates?limit=3&cursor=${encodeURIComponent(page.next)}`;
    }
    expect(whole.items.length).toBeGreaterThan(6);
    expect(seen).toEqual(whole.items.map(({ id }) => id));
  });

  it('holds none that is cleared, as long as nothing can be cleared', async () => {
    const reply = await api.get('/api/v1/plates?cleared=true').set(wren.headers).expect(200);
    expect(reply.body).toEqual({ items: [], next: null });
  });
});

it('sent again with its Idempotency-Key is answered without reading the drawing again', async () => {
  let measured = 0;
  const measure = async () => {
    measured += 1;
    return Buffer.from(JSON.stringify({ bolts: [] }));
  };
  const drawing = { bytes: Buffer.from('0'), fileName: 'plate.dxf' };
  const given = { name: 'Twice', drawing, facts: samplePlate, key: 'twice' };
  const here = { database, now: house.clock.now, checks: { measure } };
  const { id: memberId, displayName } = wren.member;
  const actor: Actor = { memberId, displayName, role: 'member', stewards: false, sessionIdHash: '' };
  const first = await keepPlate(here, actor, given);
  expect(first).not.toBeInstanceOf(Refusal);
  expect(await keepPlate(here, actor, given)).toEqual(first);
  const other = await keepPlate(here, actor, { ...given, name: 'Other' });
  expect(other).toMatchObject({ reasons: [{ code: 'idempotency-key-reused' }] });
  expect(measured).toBe(1);
});
