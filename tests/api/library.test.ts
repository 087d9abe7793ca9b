import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { libraryReply } from '../../server/plates/library/schemas.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);
const tamsin = await signedInMember(house);
const odile = await signedInMember(house, 'steward');

type Headers = typeof wren.headers;

async function keep(headers: Headers, name: string, sample: string, change: object = {}, more: object = {}) {
  const kept = await api
    .post('/api/v1/plates')
    .set(headers)
    .send({ name, ...plateBody(sample, more) })
    .expect(201);
  house.clock.turn(1);
  if (Object.keys(change).length > 0)
    await api.patch(`/api/v1/plates/${kept.body.id}`).set(headers).send(change).expect(200);
  return kept.body.id as string;
}

const hidden = await keep(tamsin.headers, 'Hidden token', 'tiny-token');
const hive = await keep(tamsin.headers, 'Hive spacer', 'hive-spacer-inch', {
  sharing: 'run',
  place: 'Rack B, shelf 2',
  condition: 'worn',
  conditionNote: 'gate 2 burred',
});
const tile = await keep(
  wren.headers,
  'Tile spacer',
  'tile-spacer-4up',
  {},
  { note: 'For the kitchen floor.' },
);
const pull = await keep(tamsin.headers, 'Drawer pull', 'drawer-pull', { sharing: 'see' });
const old = await keep(wren.headers, 'Old riser', 'pot-riser-blocks', { retired: true });
await clearPlate(house, { plateId: tile, polymers: ['PP', 'HDPE'] });

const ask = (query: string, headers = wren.headers) => api.get(`/api/v1/library?${query}`).set(headers);
async function found(query: string, headers = wren.headers) {
  const { items } = libraryReply.decode((await ask(query, headers).expect(200)).body);
  return items.map(({ id }) => id);
}

describe('the library', () => {
  it('holds what is one’s own and what is shared, newest first; for stewards everything', async () => {
    expect(await found('')).toEqual([pull, tile, hive]);
    expect(await found('', tamsin.headers)).toEqual([pull, hive, hidden]);
    expect(await found('', odile.headers)).toEqual([pull, tile, hive, hidden]);
  });

  it.each([
    ['words=spacer', [tile, hive]],
    ['words=kitch', [tile]],
    ['words=SPACER+tile', [tile]],
    ['words=burred', [hive]],
    ['words=token', []],
    ['resin=PP', [tile]],
    ['resin=hdpe', [tile]],
    ['resin=ABS', []],
    ['cleared=yes', [tile]],
    ['cleared=no', [pull, hive]],
    ['condition=worn', [hive]],
    ['whose=mine', [tile]],
    ['whose=run', [hive]],
    ['whose=see', [pull]],
    ['place=shelf+2', [hive]],
    ['retired=yes', [old]],
    ['retired=all&whose=mine', [old, tile]],
    ['words=spacer&cleared=no&whose=run', [hive]],
  ])('finds by %s', async (query, expected) => {
    expect(await found(query)).toEqual(expected);
  });

  it('finds by the longer side of the plate, or of a part', async () => {
    const { items } = libraryReply.decode((await ask('retired=all').expect(200)).body);
    expect(items).toHaveLength(4);
    for (const { id, widthMm, heightMm, partMm } of items) {
      const plateMm = Math.max(widthMm ?? 0, heightMm ?? 0);
      const longest = partMm.at(-1) ?? 0;
      expect(longest).toBeGreaterThan(1);
      expect(longest).toBeLessThan(plateMm);
      const reach = (mm: number) => `minMm=${(mm - 0.01).toFixed(2)}&maxMm=${(mm + 0.01).toFixed(2)}`;
      expect(await found(`retired=all&size=plate&${reach(plateMm)}`)).toContain(id);
      expect(await found(`retired=all&size=part&${reach(longest)}`)).toContain(id);
      expect(await found(`retired=all&size=plate&minMm=${(plateMm + 0.01).toFixed(2)}`)).not.toContain(id);
      expect(await found(`retired=all&maxMm=${((partMm[0] ?? 0) - 0.01).toFixed(2)}`)).not.toContain(id);
    }
  });

  it('is read page by page', async () => {
    const first = libraryReply.decode((await ask('limit=2').expect(200)).body);
    expect(first.items.map(({ id }) => id)).toEqual([pull, tile]);
    const second = libraryReply.decode((await ask(`limit=2&cursor=${first.next}`).expect(200)).body);
    expect(second.items.map(({ id }) => id)).toEqual([hive]);
    expect(second.next).toBeNull();
  });

  it('says what is cleared, where it lies and who has it', async () => {
    const { items } = libraryReply.decode((await ask('').expect(200)).body);
    expect(items.find(({ id }) => id === tile)).toMatchObject({
      mine: true,
      reached: 'production',
      polymers: ['HDPE', 'PP'],
      note: 'For the kitchen floor.',
      thicknessMm: 16,
    });
    expect(items.find(({ id }) => id === hive)).toMatchObject({
      mine: false,
      ownerName: tamsin.member.displayName,
      reached: 'none',
      polymers: [],
      place: 'Rack B, shelf 2',
      condition: 'worn',
    });
  });

  it.each([
    ['resin=unobtanium', 'resin'],
    ['minMm=wide', 'minMm'],
    ['minMm=-1', 'minMm'],
    ['maxMm=5000', 'maxMm'],
    ['minMm=50&maxMm=20', 'maxMm'],
    ['condition=shiny', 'condition'],
    ['whose=everybodys', 'whose'],
    ['cleared=perhaps', 'cleared'],
    ['words=%2B%2B', 'words'],
    ['retired=soon', 'retired'],
  ])('refuses %s and says which filter it was', async (query, field) => {
    const reply = await ask(query).expect(400);
    expect(codesOf(reply)).toEqual(['field-invalid']);
    expect(reply.body.reasons[0].field).toBe(field);
  });

  it('refuses a filter that there is none of', async () => {
    expect(codesOf(await ask('colour=red').expect(400))).toEqual(['field-invalid']);
  });

  it('takes a search as words, whatever they are', async () => {
    expect(await found("words=spacer'+%26+%7C+%3A*+!")).toEqual([tile, hive]);
  });
});

describe('the library’s page', async () => {
  const visitor = visitorOf(house);
  await visitor.signIn(wren.member);

  it('shows each plate small, and asks by its address alone', async () => {
    const { text } = await visitor.get('/library').expect(200);
    expect(text.match(/class="ps-picture ps-sketch"/g)).toHaveLength(3);
    expect(text).toContain('cleared: HDPE, PP');
    const asked = await visitor.get('/library?words=hive&resin=&minMm=&size=part').expect(200);
    expect(asked.text.match(/class="ps-library__plate"/g)).toHaveLength(1);
    expect(asked.text).toContain('value="hive"');
  });

  it('says what is wrong with a filter, at its field', async () => {
    const { text } = await visitor.get('/library?minMm=50,5&maxMm=20').expect(422);
    expect(text).toContain('The most is less than the least');
    expect(text).toContain('value="50,5"');
    expect((await visitor.get('/library?minMm=12.5&maxMm=60,5').expect(200)).text).not.toContain('Error:');
  });

  it('says so where no plate is like that', async () => {
    const { text } = await visitor.get('/library?words=nothing').expect(200);
    expect(text).toContain('No plate is like this');
  });

  it('prints the labels of ticked plates, with a code that leads to each; none of what one may not see', async () => {
    const { text } = await visitor
      .get(`/library/labels?plate=${hive}&plate=${tile}&plate=${hidden}&plate=${hive}&plate=nonsense`)
      .expect(200);
    expect(text.match(/class="ps-label"/g)).toHaveLength(2);
    expect(text.indexOf('Hive spacer')).toBeLessThan(text.indexOf('Tile spacer'));
    for (const said of ['Rack B, shelf 2', 'HDPE, PP', 'Grid, version 1', 'M6 × 20', hive.slice(0, 8)])
      expect(text).toContain(said);
    expect(text).not.toContain('Hidden token');
    expect((await visitor.get('/library/labels').expect(200)).text).toContain('No label to print');
    await visitor.get(`/plates/${hidden}/label`).expect(404);
    expect((await visitor.get(`/plates/${tile}/label`).expect(200)).text).toContain('Tile spacer');
  });
});

it('asks a steward about the plate of somebody who has left', async () => {
  await api.post('/api/v1/me/leaving').set(tamsin.headers).send({ password: 'a plain long sentence' });
  const visitor = visitorOf(house);
  await visitor.signIn(wren.member);
  const { text } = await visitor.get(`/plates/${hive}/label`).expect(200);
  expect(text).toContain('ask a steward');
  expect(text).not.toContain(tamsin.member.displayName);
});
