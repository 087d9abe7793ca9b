import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { plainPng } from '../support/photographs.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody, sampleDxf } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember, TEST_PASSWORD } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database, { settings: { rateLimits: false } });
const { keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);
const tamsin = await signedInMember(house);
const odile = await signedInMember(house, 'steward');
const bram = await signedInMember(house, 'steward');

async function newPlate(sample = 'tile-spacer-4up', more: object = {}): Promise<string> {
  const body = { name: `Plate of ${sample}`, ...plateBody(sample, more) };
  const reply = await api.post('/api/v1/plates').set(wren.headers).send(body).expect(201);
  return reply.body.id;
}

const change = (id: string, body: object, headers = wren.headers) =>
  api.patch(`/api/v1/plates/${id}`).set(headers).send(body);
const see = (id: string, headers: Record<string, string>) => api.get(`/api/v1/plates/${id}`).set(headers);
const handOver = (id: string, memberId: string, headers: Record<string, string>) =>
  api.put(`/api/v1/plates/${id}/owner`).set(headers).send({ memberId });

async function trailOf(id: string): Promise<readonly string[]> {
  const rows = await database.query<{ action: string }>(
    "select action from audit_entry where subject_id = $1 and action <> 'plate-submitted' order by id",
    [id],
  );
  return rows.map(({ action }) => action);
}

describe('sharing', () => {
  it('lets others see, then see and run, then neither', async () => {
    const id = await newPlate();
    await see(id, tamsin.headers).expect(404);
    await change(id, { sharing: 'see' }, tamsin.headers).expect(404);
    await change(id, { sharing: 'see' }).expect(200);
    const { body } = await see(id, tamsin.headers).expect(200);
    expect(body).toMatchObject({ sharing: 'see', ownerName: wren.member.displayName });
    await change(id, { sharing: 'run' }, tamsin.headers).expect(403);
    const shared = await api.get('/api/v1/plates?shared=true').set(tamsin.headers).expect(200);
    expect(shared.body.items.map((one: { id: string }) => one.id)).toContain(id);
    await change(id, { sharing: 'nobody' }).expect(200);
    await see(id, tamsin.headers).expect(404);
    expect(await trailOf(id)).toEqual(['plate-shared', 'plate-shared']);
  });

  it('said again changes nothing and is not told', async () => {
    const id = await newPlate();
    await change(id, { sharing: 'nobody' }).expect(200);
    expect(await trailOf(id)).toEqual([]);
  });
});

describe('the rack', () => {
  it('has a place and a condition for each plate, by its owner or a steward', async () => {
    const id = await newPlate();
    const { body } = await change(id, { place: ' Rack B, shelf 2 ', condition: 'good' }).expect(200);
    expect(body).toMatchObject({ place: 'Rack B, shelf 2', condition: 'good', conditionNote: null });
    await change(id, { condition: 'worn', conditionNote: 'burr at gate 2' }, odile.headers).expect(200);
    await change(id, { place: null }, odile.headers).expect(200);
    expect((await see(id, wren.headers)).body).toMatchObject({
      place: null,
      conditionNote: 'burr at gate 2',
    });
    await change(id, { condition: 'lost' }).expect(400);
    await change(id, { colour: 'red' }).expect(400);
  });

  it('takes all of a change or nothing', async () => {
    const id = await newPlate();
    // A steward may say where it lies, and not what it is called.
    await change(id, { place: 'Shelf 9', name: 'Mine' }, odile.headers).expect(403);
    expect((await see(id, wren.headers)).body).toMatchObject({ place: null });
  });
});

describe('a retired plate', () => {
  it('is not revised until it is taken up again', async () => {
    const id = await newPlate();
    expect((await change(id, { retired: true }, odile.headers).expect(200)).body.retired).toBe(true);
    const revise = () =>
      api.post(`/api/v1/plates/${id}/revisions`).set(wren.headers).send(plateBody('no-vent'));
    expect(codesOf(await revise().expect(409))).toEqual(['plate-retired']);
    await change(id, { retired: false }).expect(200);
    await revise().expect(201);
    expect(await trailOf(id)).toEqual(['plate-retired', 'plate-taken-up', 'plate-revised']);
  });
});

describe('handing over', () => {
  it('gives a plate to another member, who is told, and the giver keeps nothing of it', async () => {
    const id = await newPlate();
    await handOver(id, tamsin.member.id, odile.headers).expect(409);
    await handOver(id, tamsin.member.id, tamsin.headers).expect(404);
    await handOver(id, tamsin.member.id, wren.headers).expect(204);
    await see(id, wren.headers).expect(404);
    expect((await see(id, tamsin.headers)).body.ownerId).toBe(tamsin.member.id);
    const notices = await api.get('/api/v1/notices').set(tamsin.headers).expect(200);
    expect(notices.body.items[0]).toMatchObject({ kind: 'plate-handed-over' });
    expect(await trailOf(id)).toEqual(['plate-handed-over']);
  });

  it.each([
    ['its owner', async () => wren.member.id],
    ['nobody', async () => '00000000-0000-4000-8000-000000000000'],
    [
      'somebody suspended',
      async () => {
        const { member } = await signedInMember(house);
        await database.query("update member set state = 'suspended' where id = $1", [member.id]);
        return member.id;
      },
    ],
  ])('is not to %s', async (_who, idOf) => {
    const id = await newPlate();
    expect(codesOf(await handOver(id, await idOf(), wren.headers).expect(422))).toEqual([
      'new-owner-unknown',
    ]);
  });

  it('of somebody who has left is for stewards, and what was shared stays shared', async () => {
    const leaver = await signedInMember(house);
    const body = { name: 'Left behind', ...plateBody() };
    const { body: plate } = await api.post('/api/v1/plates').set(leaver.headers).send(body).expect(201);
    await change(plate.id, { sharing: 'run' }, leaver.headers).expect(200);
    const leaving = api.post('/api/v1/me/leaving').set(leaver.headers);
    expect((await leaving.send({ password: TEST_PASSWORD })).status).toBeLessThan(300);
    expect((await see(plate.id, odile.headers)).body.ownerName).not.toBe(leaver.member.displayName);
    await see(plate.id, tamsin.headers).expect(200);
    await handOver(plate.id, tamsin.member.id, tamsin.headers).expect(403);
    await handOver(plate.id, tamsin.member.id, odile.headers).expect(204);
    expect((await see(plate.id, tamsin.headers)).body).toMatchObject({
      ownerId: tamsin.member.id,
      sharing: 'run',
    });
  });

  it('is not to who cleared it: nobody clears a plate of their own', async () => {
    const id = await newPlate();
    await database.query(
      `insert into clearance (plate_id, revision, bolster_id, bolster_version, step, decision, readings, decided_by, decided_at)
       select $1, 1, b.id, max(v.version), 'fit', 'clear', '{"thicknessMm": [16, 16, 16, 16]}', $2, now()
       from bolster b join bolster_version v on v.bolster_id = b.id where b.mounted group by b.id`,
      [id, bram.member.id],
    );
    expect(codesOf(await handOver(id, bram.member.id, wren.headers).expect(422))).toEqual([
      'new-owner-decided',
    ]);
    await handOver(id, odile.member.id, wren.headers).expect(204);
  });
});

describe('a revision', () => {
  it('carries a note, and asks for permission before anything is read', async () => {
    const id = await newPlate();
    const note = 'Gates opened to 1.2 mm';
    const sent = { ...plateBody('no-vent'), note };
    const { body } = await api
      .post(`/api/v1/plates/${id}/revisions`)
      .set(wren.headers)
      .send(sent)
      .expect(201);
    expect(body.revisions.map((one: { note: string | null }) => one.note)).toEqual([note, null]);
    await change(id, { sharing: 'see' }).expect(200);
    // What cannot be read would be 422; who may not is told so first.
    const unreadable = { ...plateBody(), dxf: 'no drawing' };
    await api.post(`/api/v1/plates/${id}/revisions`).set(tamsin.headers).send(unreadable).expect(403);
  });

  it('of a file that is kept already says where', async () => {
    const id = await newPlate('seed-label-2up');
    const again = { name: 'Again', ...plateBody('seed-label-2up') };
    const { body } = await api.post('/api/v1/plates').set(wren.headers).send(again).expect(201);
    expect(body.sameDrawing).toEqual([{ plateId: id, name: 'Plate of seed-label-2up', revision: 1 }]);
    // Others' plates are not told.
    const theirs = await api.post('/api/v1/plates').set(odile.headers).send(again).expect(201);
    expect(theirs.body.sameDrawing).toEqual([]);
  });

  it('takes its facing plate and packers from the rack, as thick as they are', async () => {
    const part = async (kind: string, thicknessMm: number, state = 'in-service') => {
      const [row] = await database.query<{ id: string }>(
        `insert into stack_part (kind, name, thickness_mm, width_mm, height_mm, material, place, note, state, created_at)
         values ($1, $2, $3, 150, 110, 'steel', '', '', $4, now()) returning id`,
        [kind, `${kind} ${thicknessMm} ${state}`, thicknessMm, state],
      );
      return row?.id ?? '';
    };
    const [facing, thin, thick, old] = [
      await part('facing', 6),
      await part('packer', 2.5),
      await part('packer', 4),
      await part('packer', 3, 'retired'),
    ];
    const id = await newPlate();
    const send = (more: object) =>
      api
        .post(`/api/v1/plates/${id}/revisions`)
        .set(wren.headers)
        .send({ ...plateBody(), ...more });
    const { body } = await send({ facingPartId: facing, packerPartIds: [thin, thick] }).expect(201);
    expect(body.revisions[0]).toMatchObject({
      facingThicknessMm: 6,
      packerThicknessMm: 6.5,
      facingPartId: facing,
      packerPartIds: [thin, thick],
    });
    expect(codesOf(await send({ packerPartIds: [old] }).expect(422))).toEqual(['stack-part-not-in-service']);
    expect(codesOf(await send({ facingPartId: thin }).expect(422))).toEqual(['stack-part-unknown']);
    expect(codesOf(await send({ packerPartIds: [thin, thin] }).expect(422))).toEqual(['stack-part-unknown']);
  });
});

describe('comparing', () => {
  const compare = (id: string, query: string, headers = wren.headers) =>
    api.get(`/api/v1/plates/${id}/compare?${query}`).set(headers);

  it('two revisions tells the drawing, the facts and what got better or worse', async () => {
    const id = await newPlate('tile-spacer-4up');
    const thinner = plateBody('bolt-off-grid', { thicknessMm: 15 });
    await api.post(`/api/v1/plates/${id}/revisions`).set(wren.headers).send(thinner).expect(201);
    const { body } = await compare(id, '').expect(200);
    expect(body).toMatchObject({ from: { revision: 1, polymer: 'PP' }, to: { revision: 2, polymer: 'PP' } });
    expect(body.facts).toContainEqual({ fact: 'thicknessMm', from: 16, to: 15 });
    expect(body.drawing.same).toBe(false);
    expect(body.drawing.bolts.map((one: { change: string }) => one.change)).toContain('added');
    const pattern = body.findings.find((one: { check: string }) => one.check === 'bolt-pattern');
    expect(pattern).toMatchObject({ change: 'worse', from: { verdict: 'clear' }, to: { verdict: 'stop' } });
    const back = await compare(id, 'fromRevision=2&toRevision=1').expect(200);
    const better = back.body.findings.find((one: { check: string }) => one.check === 'bolt-pattern');
    expect(better.change).toBe('better');
    await compare(id, '', tamsin.headers).expect(404);
    await compare(id, 'fromRevision=9').expect(404);
  });

  it('two resins or two bolsters is the same drawing with other findings', async () => {
    const id = await newPlate('tile-spacer-4up');
    const resins = await compare(id, 'fromPolymer=PP&toPolymer=ABS').expect(200);
    expect(resins.body).toMatchObject({
      from: { polymer: 'PP' },
      to: { polymer: 'ABS' },
      drawing: null,
      facts: [],
    });
    expect(resins.body.findings.some((one: { change: string }) => one.change !== 'same')).toBe(true);
    const bolsters = await compare(id, `toBolsterId=${keyedBolsterId}`).expect(200);
    expect(bolsters.body.to.bolster.id).toBe(keyedBolsterId);
    expect(bolsters.body.from.bolster.id).not.toBe(keyedBolsterId);
    expect(codesOf(await compare(id, 'toPolymer=XYZ').expect(422))).toEqual(['polymer-unknown']);
  });
});

describe('the pages', () => {
  it('show and change where a plate lies, how it is shared, and its photographs', async () => {
    const id = await newPlate();
    const visitor = visitorOf(house);
    await visitor.signIn(wren.member);
    const page = `/plates/${id}`;
    await visitor.fill(page, `${page}/rack`, { place: 'Shelf 3', condition: 'good', conditionNote: '' });
    await visitor.fill(page, `${page}/sharing`, { sharing: 'run' });
    const sent = await visitor.upload(page, `${page}/photographs`, { photograph: await plainPng() });
    expect([sent.status, sent.headers.location]).toEqual([303, page]);
    const { text } = await visitor.get(page).expect(200);
    expect(text).toContain('Shelf 3');
    expect(text).toContain('everybody may see and run it');
    const [, photographId = ''] = /src="\/photographs\/([0-9a-f-]+)\?/.exec(text) ?? [];
    await visitor
      .get(`/photographs/${photographId}?size=thumb`)
      .expect(200)
      .expect('content-type', 'image/jpeg');
    const wrong = await visitor.upload(page, `${page}/photographs`, { photograph: Buffer.from('none') });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('This is not a photograph that can be read.');
    await visitor.fill(page, `/photographs/${photographId}/remove`);
    await visitor.get(`/photographs/${photographId}`).expect(404);
    await visitor.fill(page, `${page}/retire`, { retired: 'yes' });
    expect((await visitor.get(page)).text).not.toContain(`action="${page}/revisions"`);
    await visitor.fill(page, `${page}/owner`, { memberId: tamsin.member.id });
    await visitor.get(page).expect(200);
  });

  it('read several drawings, tell the same file twice, and keep one or all', async () => {
    const visitor = visitorOf(house);
    await visitor.signIn(odile.member);
    const { text: empty } = await visitor.get('/plates/submit').expect(200);
    const token = /name="_csrf" value="([^"]+)"/.exec(empty)?.[1] ?? '';
    const send = (fields: Record<string, string>, files: readonly (readonly [string, string | Buffer])[]) =>
      visitor.send('/plates/submit', { _csrf: token, ...fields }, files);
    const facts = {
      alloy: 'EN AW-6082-T6',
      thicknessMm: '16',
      screw: 'M6',
      screwLengthMm: '20',
      polymer: 'PP',
    };
    const read = await send(facts, [
      ['hive.dxf', sampleDxf('hive-spacer-inch')],
      ['hive again.dxf', sampleDxf('hive-spacer-inch')],
      ['no feed.dxf', sampleDxf('no-feed')],
      ['large.dxf', Buffer.alloc(9 * 1024 * 1024, ' ')],
      ['cap.dxf', sampleDxf('deep-cap')],
    ]);
    expect(read.status).toBe(200);
    expect(read.text).toContain('This is the very file hive.dxf above.');
    expect(read.text).toContain('at most 8 MiB are read');
    expect(read.text.match(/not read</g)).toHaveLength(2);
    const carried = Object.fromEntries(
      [...read.text.matchAll(/name="((?:fileName|drawing)-\d)" value="([^"]*)"/g)].map(([, name, value]) => [
        name,
        value,
      ]),
    ) as Record<string, string>;
    const wish = { ...facts, ...carried, 'name-0': 'Hive', 'name-4': 'Cap', 'note-4': 'Deep: go slow.' };
    const long = await send({ ...wish, 'note-4': 'x'.repeat(1001), keep: '4' }, []);
    expect(long.text).toContain('at most 1000 characters');
    const kept = await send({ ...wish, keep: 'all' }, []);
    expect(kept.text).toContain('<b>Hive</b>');
    expect(kept.text).toContain('<b>Cap</b>');
    const rows = await database.query('select name from plate where owner_id = $1 order by name', [
      odile.member.id,
    ]);
    expect(rows).toEqual(expect.arrayContaining([{ name: 'Cap' }, { name: 'Hive' }]));
    const notes = await database.query(
      `select r.note from plate_revision r join plate p on p.id = r.plate_id where p.owner_id = $1 and p.name = 'Cap'`,
      [odile.member.id],
    );
    expect(notes).toEqual([{ note: 'Deep: go slow.' }]);
    const none = await send(facts, []);
    expect(none.status).toBe(422);
  });

  it('compare revisions as the API does', async () => {
    const id = await newPlate('tile-spacer-4up');
    await api
      .post(`/api/v1/plates/${id}/revisions`)
      .set(wren.headers)
      .send(plateBody('bolt-off-grid'))
      .expect(201);
    const visitor = visitorOf(house);
    await visitor.signIn(wren.member);
    const { text } = await visitor.get(`/plates/${id}/compare`).expect(200);
    expect(text).toContain('What changed in the drawing');
    expect(text).toContain('new hole');
    expect(text).toContain('worse');
  });
});
