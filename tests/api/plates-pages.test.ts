import { gunzipSync, gzipSync } from 'node:zlib';
import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { sampleDxf } from '../support/plate-bodies.js';
import { formTokenOf } from '../support/requests.js';
import { makeMember, TEST_PASSWORD } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database, { settings: { signedOutChecksPerMinute: 1000 } });
const { bolsterId } = await furnishPress(database, LONG_AGO);
const member = await makeMember(house);

const usual = {
  alloy: 'EN AW-6082-T6',
  thicknessMm: '16',
  packerThicknessMm: '0',
  facingThicknessMm: '0',
  headSinkDepthMm: '7',
  headSinkDiameterMm: '11',
  screw: 'M6',
  screwLengthMm: '20',
  polymer: 'PP',
  bolsterId,
};

type Fields = Record<string, string>;

/** A browser, signed in or not. */
async function browser(signedIn = false) {
  const agent = supertest.agent(house.url);
  const own = { origin: house.url, 'sec-fetch-site': 'same-origin' };
  const token = async (page: string) => formTokenOf((await agent.get(page).expect(200)).text);
  const send = async (action: string, fields: Fields, dxf?: string, page = '/check') => {
    // The token first: an agent gives a request the cookies it has when the request is made.
    const _csrf = await token(page);
    const request = agent
      .post(action)
      .set(own)
      .field({ _csrf, ...fields });
    return dxf === undefined
      ? request
      : request.attach('dxf', Buffer.from(dxf, 'latin1'), { filename: 'tile-spacer.dxf' });
  };
  if (signedIn) {
    const fields = { _csrf: await token('/sign-in'), email: member.email, password: TEST_PASSWORD };
    await agent.post('/sign-in').type('form').set(own).send(fields).expect(303);
  }
  return { agent, own, send, token };
}

const carried = (dxf: string) => gzipSync(Buffer.from(dxf, 'latin1')).toString('base64url');

async function platesStored(): Promise<number> {
  const [row] = await database.query<{ count: number }>('select count(*) from plate');
  return row?.count ?? 0;
}

describe('before cutting metal, signed out', async () => {
  const { agent, send } = await browser();

  it('shows the form, and samples to try', async () => {
    const { text } = await agent.get('/check').expect(200);
    expect(text).toContain('href="/check?sample&#x3D;tile-spacer-4up"');
    await agent.get('/check?sample=tile-spacer-4up').expect(200);
    await agent.get('/check?sample=../../package').expect(200);
  });

  it('checks a file, draws it and carries it along', async () => {
    const reply = await send('/check', usual, sampleDxf('tile-spacer-4up'));
    expect(reply.status).toBe(200);
    expect(reply.text).toContain('ps-stamp--clear');
    expect(reply.text).toContain('tile-spacer.dxf');
    const drawing = /name="drawing" value="([^"]+)"/.exec(reply.text)?.[1] ?? '';
    expect(gunzipSync(Buffer.from(drawing, 'base64url')).toString('latin1')).toBe(
      sampleDxf('tile-spacer-4up'),
    );
  });

  it('says under a clear verdict what was not looked at', async () => {
    const reply = await send('/check', usual, sampleDxf('tile-spacer-4up'));
    expect(reply.text).toContain('ps-stamp--clear');
    expect(reply.text.match(/Not looked at yet: [^.]+\./g)).toHaveLength(2);
    const unvented = await send('/check', usual, sampleDxf('no-vent'));
    expect(unvented.text).toContain('ps-stamp--caution');
  });

  it('checks what it carried, with a cure to try and a decimal comma', async () => {
    const fields = { ...usual, thicknessMm: '10,0', screwLengthMm: '12', headSinkDepthMm: '6' };
    const drawing = carried(sampleDxf('tile-spacer-4up'));
    const thin = await send('/check', { ...fields, drawing, fileName: 'tile.dxf' });
    expect(thin.text).toContain('ps-stamp--stop');
    const cured = await send('/check', {
      ...fields,
      drawing,
      fileName: 'tile.dxf',
      with: 'packerThicknessMm=2',
    });
    expect(cured.text).toMatch(/name="packerThicknessMm"[^>]*value="2"/);
  });

  it.each<[string, Fields, string | undefined, string]>([
    ['no drawing', usual, undefined, 'dxf'],
    ['a drawing that is none', usual, 'hello', 'dxf'],
    ['an open contour', usual, sampleDxf('open-contour'), 'dxf'],
    ['thickness in words', { ...usual, thicknessMm: 'thick' }, sampleDxf('tile-spacer-4up'), 'thicknessMm'],
    ['no thickness', { ...usual, thicknessMm: '' }, sampleDxf('tile-spacer-4up'), 'thicknessMm'],
    ['thickness 0', { ...usual, thicknessMm: '0' }, sampleDxf('tile-spacer-4up'), 'thicknessMm'],
    [
      'a packer below nothing',
      { ...usual, packerThicknessMm: '-1' },
      sampleDxf('tile-spacer-4up'),
      'packerThicknessMm',
    ],
    ['a strange alloy', { ...usual, alloy: 'butter' }, sampleDxf('tile-spacer-4up'), 'alloy'],
    ['a strange screw', { ...usual, screw: 'M6.5' }, sampleDxf('tile-spacer-4up'), 'screw'],
    ['a strange resin', { ...usual, polymer: 'butter' }, sampleDxf('tile-spacer-4up'), 'polymer'],
    ['a strange bolster', { ...usual, bolsterId: 'one' }, sampleDxf('tile-spacer-4up'), 'bolsterId'],
    ['a carried drawing that is torn', { ...usual, drawing: 'H4sIAAAA' }, undefined, 'dxf'],
    ['one that unpacks to too much', { ...usual, drawing: carried(' '.repeat(9_000_000)) }, undefined, 'dxf'],
  ])('says at the field: %s', async (_what, fields, dxf, field) => {
    const before = await platesStored();
    const reply = await send('/check', fields, dxf);
    expect(reply.status).toBe(422);
    expect(reply.text).toContain(`href="#${field}"`);
    expect(reply.text).toContain(`id="${field}-error"`);
    expect(reply.text).toMatch(new RegExp(`name="thicknessMm"[^>]*value="${fields.thicknessMm}"`));
    expect(await platesStored()).toBe(before);
  });
});

const drawingIn = (html: string) => {
  const packed = /name="drawing" value="([^"]*)"/.exec(html)?.[1] ?? '';
  return packed === '' ? '' : gunzipSync(Buffer.from(packed, 'base64url')).toString('latin1');
};

it('reads a length with its unit, and no other way of writing a number', async () => {
  const { send } = await browser();
  const lengths = { thicknessMm: '16 mm', screwLengthMm: '20mm' };
  expect((await send('/check', { ...usual, ...lengths }, sampleDxf('tile-spacer-4up'))).status).toBe(200);
  for (const thicknessMm of ['1e1', '+16', '0x10', '16 m', '16mmm']) {
    const reply = await send('/check', { ...usual, thicknessMm }, sampleDxf('tile-spacer-4up'));
    expect([thicknessMm, reply.status]).toEqual([thicknessMm, 422]);
  }
});

it('says how large a drawing may be where one is larger', async () => {
  const { send } = await browser();
  const reply = await send('/check', usual, ' '.repeat(9 * 1024 * 1024));
  expect(reply.status).toBe(413);
  expect(reply.text).toContain('at most 8 MiB');
  // What was typed beside it is still there.
  expect(reply.text).toContain(`name="thicknessMm" type="text" value="${usual.thicknessMm}"`);
});

it('puts depths of one tone into one row of the key, which says which is which', async () => {
  const { send } = await browser();
  const reply = await send('/check', usual, sampleDxf('drawer-pull'));
  const key = /<ul class="ps-key">(.*?)<\/ul>/s.exec(reply.text)?.[1] ?? '';
  const tones = [...key.matchAll(/ps-swatch ps-d(\d)/g)].map(([, step]) => step);
  expect(tones.length).toBeGreaterThan(1);
  expect(new Set(tones).size).toBe(tones.length);
});

it('names the field in the summary, and speaks no API', async () => {
  const { send } = await browser();
  const words = await send('/check', { ...usual, thicknessMm: 'x' }, sampleDxf('tile-spacer-4up'));
  expect(words.text).toContain('<a href="#thicknessMm">Thickness: give it in mm, for instance 12.5.</a>');
  const absurd = await send('/check', { ...usual, thicknessMm: '300' }, sampleDxf('tile-spacer-4up'));
  expect(absurd.text).toContain('<a href="#thicknessMm">Thickness: 300 mm is not from 2 to 200 mm.</a>');
  expect(absurd.text).not.toContain('“');
});

describe('a file once chosen stays with the form', async () => {
  const { agent, send } = await browser();
  const dxf = sampleDxf('tile-spacer-4up');

  it.each<[string, Fields, string]>([
    ['a field that is wrong', { ...usual, thicknessMm: 'x' }, dxf],
    ['a drawing that is refused', usual, sampleDxf('open-contour')],
    ['a strange bolster', { ...usual, bolsterId: 'one' }, dxf],
  ])('through %s, so that the corrected form is taken', async (_what, fields, chosen) => {
    const wrong = await send('/check', fields, chosen);
    expect(wrong.status).toBe(422);
    expect(drawingIn(wrong.text)).toBe(chosen);
    expect(wrong.text).toContain('It stays with this form');
    expect(wrong.text).toContain('tile-spacer.dxf');
  });

  it('also one that was carried before, and a sample', async () => {
    const held = await send('/check', {
      ...usual,
      thicknessMm: 'x',
      drawing: carried(dxf),
      fileName: 'tile.dxf',
    });
    expect(drawingIn(held.text)).toBe(dxf);
    const sample = await agent.get('/check?sample=tile-spacer-4up').expect(200);
    expect(drawingIn(sample.text)).not.toBe('');
    const nameless = await send('/plates', { ...usual, name: ' ', thicknessMm: 'x' }, dxf);
    expect(drawingIn(nameless.text)).toBe(dxf);
  });

  it('says which file is empty, and of one that did not come along that it has to be chosen again', async () => {
    const empty = await send('/check', usual, '');
    expect(empty.status).toBe(422);
    expect(empty.text).not.toContain('Choose the drawing of the plate');
    expect(empty.text).toContain('tile-spacer.dxf');
    const lost = await send('/check', { ...usual, drawing: '', fileName: 'tile.dxf' });
    expect(lost.status).toBe(422);
    expect(lost.text).toContain('it did not come along');
  });

  it('is read before anybody is asked to sign in', async () => {
    const reply = await send('/plates', { ...usual, name: 'Open' }, sampleDxf('open-contour'));
    expect(reply.status).toBe(422);
    expect(reply.text).toContain('href="#dxf"');
    expect(reply.text).not.toContain('name="password"');
  });
});

describe('keeping a plate', () => {
  it('asks who is signed out to sign in, and loses nothing', async () => {
    const { agent, own, send, token } = await browser();
    const wish = { ...usual, name: 'My tile', note: 'First in this alloy.' };
    const asked = await send('/plates', wish, sampleDxf('tile-spacer-4up'));
    expect(asked.status).toBe(200);
    const hidden = Object.fromEntries(
      [...asked.text.matchAll(/type="hidden" name="([^"]+)" value="([^"]*)"/g)].map(
        ([, name = '', value = '']) => [name, value.replaceAll('&#x3D;', '=')],
      ),
    );
    const signIn = async (password: string) => {
      const _csrf = await token('/check');
      const fields = { ...hidden, _csrf, email: member.email, password };
      return agent.post('/plates/sign-in').type('form').set(own).send(fields);
    };
    const wrong = await signIn('not it');
    expect(wrong.status).toBe(401);
    expect(wrong.text).toContain('name="drawing"');
    const right = await signIn(TEST_PASSWORD);
    expect(right.status).toBe(303);
    const page = await agent.get(right.headers.location ?? '').expect(200);
    expect(page.text).toContain('My tile');
    expect(page.text).toContain('First in this alloy.');
    expect(page.text).toContain('ps-stamp--clear');
  });

  it('refuses screws of their own for a hole that is not drawn, at its cell, checked and kept', async () => {
    const { agent, send } = await browser(true);
    const group = { groupHoles: '3, 21', groupScrew: 'M5', groupScrewLengthMm: '20' };
    for (const address of ['/check', '/plates']) {
      const fields = { ...usual, ...group, name: 'Two screws' };
      const reply = await send(address, fields, sampleDxf('tile-spacer-4up'));
      expect(reply.status).toBe(422);
      expect(reply.text).toContain('href="#groupHoles"');
      expect(reply.text).toMatch(/does not have: hole 21, and \d+ are drawn/);
    }
    expect((await agent.get('/plates')).text).not.toContain('Two screws');
  });

  it('takes a note of a thousand characters and no longer one', async () => {
    const { send } = await browser(true);
    const long = { ...usual, name: 'Told at length', note: 'm'.repeat(1001) };
    const reply = await send('/plates', long, sampleDxf('seed-label-2up'));
    expect(reply.status).toBe(422);
    expect(reply.text).toContain('href="#note"');
    expect(reply.text).toContain('m'.repeat(1001));
    expect(
      (await send('/plates', { ...long, note: 'm'.repeat(1000) }, sampleDxf('seed-label-2up'))).status,
    ).toBe(303);
  });

  it('is one step for who is signed in; without a name it says so', async () => {
    const { agent, send } = await browser(true);
    const nameless = await send('/plates', { ...usual, name: ' ' }, sampleDxf('seed-label-2up'));
    expect(nameless.status).toBe(422);
    expect(nameless.text).toContain('href="#name"');
    const kept = await send('/plates', { ...usual, name: 'Label <2>' }, sampleDxf('seed-label-2up'));
    expect(kept.status).toBe(303);
    const list = await agent.get('/plates').expect(200);
    expect(list.text).toContain('Label &lt;2&gt;');
  });
});

describe('a plate’s sheet', async () => {
  const { agent, own, send, token } = await browser(true);
  const kept = await send('/plates', { ...usual, name: 'Spacer' }, sampleDxf('tile-spacer-4up'));
  const address = (kept.headers.location ?? '').split('?')[0] ?? '';

  it('shows the revision and its report for a resin', async () => {
    const page = await agent.get(`${address}?polymer=HDPE`).expect(200);
    expect(page.text).toContain('<option value="HDPE" selected>');
    const drawing = await agent.get(`${address}/revisions/1/drawing`).expect(200);
    expect(drawing.headers['content-disposition']).toContain('attachment');
  });

  it('takes a revision with other figures on the same drawing, and one with another drawing', async () => {
    const thicker = await send(`${address}/revisions`, { ...usual, thicknessMm: '20' }, undefined, address);
    expect(thicker.headers.location).toBe(address);
    const redrawn = await send(`${address}/revisions`, usual, sampleDxf('drawer-pull'), address);
    expect(redrawn.status).toBe(303);
    const page = await agent.get(address).expect(200);
    expect(page.text).toContain('revision 3 of 3');
    await agent.get(`${address}?revision=2`).expect(200);
    await agent.get(`${address}?revision=9`).expect(404);
  });

  it('keeps the new file through a mistake, and never takes the old drawing for it', async () => {
    const before = await agent.get(`${address}/revisions/3/drawing`).expect(200);
    const dxf = sampleDxf('seed-label-2up');
    const wrong = await send(`${address}/revisions`, { ...usual, thicknessMm: 'x' }, dxf, address);
    expect(wrong.status).toBe(422);
    expect(drawingIn(wrong.text)).toBe(dxf);
    const lost = await send(`${address}/revisions`, { ...usual, fileName: 'a.dxf' }, undefined, address);
    expect(lost.status).toBe(422);
    expect(lost.text).toContain('it did not come along');
    const fields = { ...usual, drawing: carried(dxf), fileName: 'label.dxf' };
    const kept = await send(`${address}/revisions`, fields, undefined, address);
    expect(kept.status).toBe(303);
    const stored = await agent.get(`${address}/revisions/4/drawing`).expect(200);
    expect(stored.text ?? stored.body.toString('latin1')).not.toBe(
      before.text ?? before.body.toString('latin1'),
    );
    expect(stored.headers['content-disposition']).toContain('label.dxf');
  });

  it('does what is sent twice once: no twin plate, no revision like the one before', async () => {
    const wish = { ...usual, name: 'Sent twice' };
    const first = await send('/plates', wish, sampleDxf('tile-spacer-4up'));
    const before = await platesStored();
    const [again, atOnce] = await Promise.all([
      send('/plates', wish, sampleDxf('tile-spacer-4up')),
      send('/plates', wish, sampleDxf('tile-spacer-4up')),
    ]);
    expect(again.headers.location).toBe(first.headers.location);
    expect(atOnce.headers.location).toBe(first.headers.location);
    expect(await platesStored()).toBe(before);
    const there = first.headers.location ?? '';
    const same = await send(`${there}/revisions`, usual, undefined, there);
    expect(same.status).toBe(422);
    expect(same.text).toContain('Nothing is different from revision 1');
    expect((await agent.get(there)).text).toContain('revision 1 of 1');
  });

  it('gives a plate another name, and says what a name cannot be', async () => {
    const kept = await send('/plates', { ...usual, name: 'Misspeled' }, sampleDxf('tile-spacer-4up'));
    const there = kept.headers.location ?? '';
    const _csrf = await token(there);
    const rename = (name: string) => agent.post(`${there}/name`).type('form').set(own).send({ _csrf, name });
    const wrong = await rename(' ');
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('href="#name"');
    await rename('Misspelled').expect(303);
    const page = await agent.get(there);
    expect(page.text).toContain('<h1>Misspelled</h1>');
    expect(page.text).toContain('The plate has its new name.');
  });

  it('shows what cures a caution without a click', async () => {
    const page = await send(
      '/check',
      { ...usual, thicknessMm: '12', headSinkDepthMm: '6' },
      sampleDxf('tile-spacer-4up'),
    );
    const cautions = page.text.split('ps-finding--caution').slice(1);
    expect(cautions.length).toBeGreaterThan(0);
    for (const caution of cautions)
      expect(caution).toMatch(/^[^>]*>\s*<details class="ps-finding__details" open>/);
  });

  it('offers no booking with a stop, nor from an older revision, and the list shows each verdict', async () => {
    const latest = await agent.get(address).expect(200);
    expect(latest.text).toContain('Book the press with it');
    const older = await agent.get(`${address}?revision=1`).expect(200);
    expect(older.text).toContain('An older revision is on view');
    expect(older.text).not.toContain('Book the press with it');
    const stopped = await send('/plates', { ...usual, name: 'Off' }, sampleDxf('bolt-off-grid'));
    const page = await agent.get(stopped.headers.location ?? '').expect(200);
    expect(page.text).not.toContain('Book the press with it');
    const list = await agent.get('/plates').expect(200);
    const rowOf = (name: string) => new RegExp(`>${name}</a></th>.*?</tr>`, 's').exec(list.text)?.[0] ?? '';
    expect(rowOf('Off')).toContain('ps-verdict--stop');
    expect(rowOf('Off')).not.toContain('/bookings/new');
    expect(rowOf('Spacer')).toContain('in PP');
    const form = await agent.get('/bookings/new').expect(200);
    expect(form.text).toMatch(/<option value="[^"]+">Off, revision 1: stop in PP</);
    const [, id = ''] = /\/plates\/(.*)/.exec(stopped.headers.location ?? '') ?? [];
    const asked = await agent.get(`/bookings/new?plateId=${id}`).expect(200);
    expect(asked.text).toContain('has a stop in its plate check with PP');
  });

  it('tells once what was done, to who did it', async () => {
    const kept = await send('/plates', { ...usual, name: 'Told once' }, sampleDxf('tile-spacer-4up'));
    const there = kept.headers.location ?? '';
    expect((await agent.get(there)).text).toContain('This is a plate of yours now');
    expect((await agent.get(there)).text).not.toContain('This is a plate of yours now');
    expect((await agent.get(`${there}?just=revised`)).text).not.toContain('The new revision is kept');
  });

  it('says at the field what is wrong with a revision, and keeps none', async () => {
    const wrong = await send(`${address}/revisions`, { ...usual, thicknessMm: 'thick' }, undefined, address);
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('href="#thicknessMm"');
    const unreadable = await send(`${address}/revisions`, usual, sampleDxf('no-feed'), address);
    expect(unreadable.status).toBe(422);
    expect(unreadable.text).toContain('href="#dxf"');
    expect((await agent.get(address)).text).toContain('of 4');
  });
});
