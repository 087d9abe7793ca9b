import sharp from 'sharp';
import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { transact } from '../../server/database/transaction.js';
import {
  developPhotograph,
  PHOTOGRAPH_BYTES_MAX,
} from '../../server/plates/photographs/develop-photograph.js';
import { keepPhotograph, PHOTOGRAPHS_MAX } from '../../server/plates/photographs/keep-photograph.js';
import { Refusal } from '../../server/reasons.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import {
  animatedPng,
  animatedWebp,
  bombPng,
  cameraJpeg,
  plainPng,
  plainWebp,
} from '../support/photographs.js';
import { LONG_AGO, plainPlate } from '../support/plain-rows.js';
import { codesOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const { bolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);
const tamsin = await signedInMember(house);
const odile = await signedInMember(house, 'steward');
const plateId = await plainPlate(database, wren.member.id);

function send(bytes: Buffer, headers: Record<string, string> = wren.headers, fields: object = {}) {
  const sent = api.post(`/api/v1/plates/${plateId}/photographs`).set(headers);
  for (const [name, value] of Object.entries(fields)) sent.field(name, String(value));
  return sent.attach('photograph', bytes, 'anything.bin');
}

function see(id: string, size: string, headers = wren.headers) {
  return api.get(`/api/v1/photographs/${id}?size=${size}`).set(headers).buffer(true).parse(asBytes);
}

/** Of a band of 400 pixels, from a line on. */
async function meanRed(jpeg: Buffer, top: number): Promise<number> {
  const band = await sharp(jpeg).extract({ left: 0, top, width: 1200, height: 400 }).png().toBuffer();
  return (await sharp(band).stats()).channels[0]?.mean ?? Number.NaN;
}

function asBytes(reply: supertest.Response, done: (error: Error | null, bytes: Buffer) => void) {
  const parts: Buffer[] = [];
  reply.on('data', (part: Buffer) => parts.push(part));
  reply.on('end', () => done(null, Buffer.concat(parts)));
}

async function stored(): Promise<number> {
  const [row] = await database.query<{ count: number }>('select count(*)::integer as count from photograph');
  return row?.count ?? -1;
}

describe('a photograph', () => {
  it('is kept upright and small enough, with a small one of it, and tells nothing of where it was taken', async () => {
    const taken = await cameraJpeg({ widthPx: 2400, heightPx: 1800 });
    expect(taken.includes('Somebody of the Yard')).toBe(true);
    expect((await sharp(taken).metadata()).exif).toBeDefined();
    const { body } = await send(taken, wren.headers, { caption: ' After the first cut ' }).expect(201);
    expect(body).toMatchObject({
      plateId,
      revision: 1,
      bolsterId: null,
      caption: 'After the first cut',
      widthPx: 1200,
      heightPx: 1600,
      keptBy: wren.member.displayName,
    });
    const { body: whole } = await see(body.id, 'whole').expect(200).expect('content-type', 'image/jpeg');
    const { body: thumb } = await see(body.id, 'thumb').expect(200);
    const { width, height, exif, xmp, iptc, icc, orientation } = await sharp(whole as Buffer).metadata();
    expect({ width, height }).toEqual({ width: 1200, height: 1600 });
    expect([exif, xmp, iptc, icc, orientation]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    for (const word of ['Somebody of the Yard', 'Gullwing camera', 'Exif', 'GPS'])
      expect((whole as Buffer).includes(word)).toBe(false);
    expect(await sharp(thumb as Buffer).metadata()).toMatchObject({ width: 240, height: 320 });
    // Turned by a quarter clockwise: what was left is on top.
    expect(await meanRed(whole, 0)).toBeLessThan(60);
    expect(await meanRed(whole, 1200)).toBeGreaterThan(200);
  });

  it.each([
    ['PNG', plainPng],
    ['WebP', plainWebp],
  ])('may be a %s', async (_kind, make) => {
    const { body } = await send(await make()).expect(201);
    expect(body).toMatchObject({ widthPx: 400, heightPx: 300, caption: '' });
    await see(body.id, 'whole').expect(200).expect('content-type', 'image/jpeg');
  });

  it('that is small is not made larger', async () => {
    const { body } = await send(await plainPng({ widthPx: 60, heightPx: 40 })).expect(201);
    const { body: thumb } = await see(body.id, 'thumb').expect(200);
    expect(await sharp(thumb as Buffer).metadata()).toMatchObject({ width: 60, height: 40 });
  });

  it.each<[string, () => Promise<Buffer> | Buffer]>([
    ['text', () => Buffer.from('0\nSECTION\n2\nENTITIES\n')],
    [
      'a picture of lines',
      () => Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'),
    ],
    [
      'a GIF',
      () =>
        sharp({ create: { width: 9, height: 9, channels: 3, background: 'red' } })
          .gif()
          .toBuffer(),
    ],
    [
      'a TIFF',
      () =>
        sharp({ create: { width: 9, height: 9, channels: 3, background: 'red' } })
          .tiff()
          .toBuffer(),
    ],
    ['nothing', () => Buffer.alloc(0)],
    ['a JPEG that breaks off', async () => (await cameraJpeg()).subarray(0, 1500)],
    ['a PNG that breaks off', async () => (await plainPng({ widthPx: 900, heightPx: 900 })).subarray(0, 600)],
    ['a signature with nothing after it', () => Buffer.from('\x89PNG\r\n\x1a\n', 'latin1')],
  ])('is not %s', async (_what, make) => {
    const before = await stored();
    const reply = await send(await make()).expect(422);
    expect(codesOf(reply)).toEqual(['photograph-not-read']);
    expect(await stored()).toBe(before);
  });

  it('with more pixels than a camera has is refused by its head, before any is unpacked', async () => {
    const bomb = bombPng(30_000);
    expect(bomb.length).toBeLessThan(300_000);
    // Of the second there is nothing to unpack: who tried would find no photograph at all.
    for (const bytes of [bomb, bomb.subarray(0, 60)]) {
      const reply = await send(bytes).expect(422);
      expect(codesOf(reply)).toEqual(['photograph-too-many-pixels']);
      expect(reply.body.reasons[0].message).toContain('52 million');
    }
  });

  it.each([
    ['PNG', animatedPng],
    ['WebP', animatedWebp],
  ])('does not move, as this %s does', async (_kind, make) => {
    expect(codesOf(await send(await make()).expect(422))).toEqual(['photograph-moves']);
  });

  it('in a file that is too large is refused with its limit', async () => {
    const padded = Buffer.concat([await cameraJpeg(), Buffer.alloc(PHOTOGRAPH_BYTES_MAX)]);
    const reply = await send(padded).expect(413);
    expect(codesOf(reply)).toEqual(['photograph-too-large']);
    expect(reply.body.reasons[0].message).toContain('12 MiB');
  });

  it('comes with its form: without the file it is asked for', async () => {
    const reply = await api
      .post(`/api/v1/plates/${plateId}/photographs`)
      .set(wren.headers)
      .field('caption', 'None')
      .expect(422);
    expect(codesOf(reply)).toEqual(['photograph-not-read']);
  });

  it('is of a revision that there is', async () => {
    const reply = await send(await plainPng(), wren.headers, { revision: 7 }).expect(404);
    expect(codesOf(reply)).toEqual(['not-found']);
  });

  it('is seen by who may see the plate, and kept by who may run it', async () => {
    const { body } = await send(await plainPng()).expect(201);
    await see(body.id, 'whole', tamsin.headers).expect(404);
    await send(await plainPng(), tamsin.headers).expect(404);
    await see(body.id, 'whole', odile.headers).expect(200);
    await database.query("update plate set sharing = 'see' where id = $1", [plateId]);
    await see(body.id, 'thumb', tamsin.headers).expect(200);
    await send(await plainPng(), tamsin.headers).expect(403);
    await database.query("update plate set sharing = 'run' where id = $1", [plateId]);
    const { body: theirs } = await send(await plainPng(), tamsin.headers).expect(201);
    // What others saw of it is not for the owner to take away; stewards may.
    await api.delete(`/api/v1/photographs/${theirs.id}`).set(wren.headers).expect(403);
    await api.delete(`/api/v1/photographs/${theirs.id}`).set(odile.headers).expect(204);
    await database.query("update plate set sharing = 'nobody' where id = $1", [plateId]);
  });

  it('is removed for good, and that it was there stays known', async () => {
    const { body } = await send(await plainPng(), wren.headers, { caption: 'Away' }).expect(201);
    await api.delete(`/api/v1/photographs/${body.id}`).set(wren.headers).expect(204);
    await see(body.id, 'whole').expect(404);
    await api.delete(`/api/v1/photographs/${body.id}`).set(wren.headers).expect(404);
    const [row] = await database.query(
      'select whole, thumb, caption, removed_by as "removedBy" from photograph where id = $1',
      [body.id],
    );
    expect(row).toEqual({ whole: null, thumb: null, caption: '', removedBy: wren.member.id });
    const trail = await database.query(
      `select action from audit_entry where details ->> 'photographId' = $1 order by id`,
      [body.id],
    );
    expect(trail).toEqual([{ action: 'photograph-kept' }, { action: 'photograph-removed' }]);
    const { body: list } = await api
      .get(`/api/v1/plates/${plateId}/photographs`)
      .set(wren.headers)
      .expect(200);
    expect(list.items.map(({ id }: { id: string }) => id)).not.toContain(body.id);
  });
});

describe('keeping photographs', () => {
  const actorOf = ({ member }: typeof wren, stewards: boolean) => ({
    memberId: member.id,
    displayName: member.displayName,
    role: stewards ? ('steward' as const) : ('member' as const),
    stewards,
    sessionIdHash: '',
  });

  it('of a bolster is for stewards, and everybody who is signed in sees them', async () => {
    const photograph = await developPhotograph(await plainPng());
    if (photograph instanceof Refusal) throw new Error('A plain picture was refused.');
    const given = { photograph, about: { bolsterId }, caption: 'Nick beside the sprue' };
    const keep = (actor: ReturnType<typeof actorOf>) =>
      transact(database, (tx) => keepPhotograph({ actor, now: house.clock.now(), tx }, given));
    expect(await keep(actorOf(wren, false))).toMatchObject({ reasons: [{ code: 'not-allowed' }] });
    const id = await keep(actorOf(odile, true));
    await see(String(id), 'whole', tamsin.headers).expect(200);
  });

  it('ends where there are too many of one plate', async () => {
    const full = await plainPlate(database, wren.member.id);
    await database.query(
      `insert into photograph (plate_id, revision, whole, thumb, width_px, height_px, kept_by, kept_at)
       select $1, 1, '\\xffd8ff00', '\\xffd8ff00', 1, 1, $2, now() from generate_series(1, $3)`,
      [full, wren.member.id, PHOTOGRAPHS_MAX],
    );
    const reply = await api
      .post(`/api/v1/plates/${full}/photographs`)
      .set(wren.headers)
      .attach('photograph', await plainPng(), 'one.png')
      .expect(422);
    expect(codesOf(reply)).toEqual(['photographs-full']);
  });
});
