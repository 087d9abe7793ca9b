import supertest from 'supertest';
import { beforeAll, describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { formTokenOf, type Visitor, visitorOf } from '../support/requests.js';
import { makeMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database, { at: '2026-11-25T10:00:00Z' });
const { bolsterId, keyedBolsterId } = await furnishPress(database, new Date('2026-01-01T00:00:00Z'));
const admin = visitorOf(house);
const agent = supertest.agent(house.url);

beforeAll(async () => {
  const member = await makeMember(house, 'admin');
  await admin.signIn(member);
  const { text } = await agent.get('/sign-in').expect(200);
  await agent
    .post('/sign-in')
    .type('form')
    .set({ origin: house.url, 'sec-fetch-site': 'same-origin' })
    .send({ _csrf: formTokenOf(text), email: member.email, password: 'a plain long sentence' })
    .expect(303);
});

/** The fields of a page's form as they stand in it. */
async function fieldsOn(visitor: Visitor, path: string): Promise<{ [name: string]: string }> {
  const { text } = await visitor.get(path).expect(200);
  const fields: { [name: string]: string } = {};
  for (const [, name = '', value = ''] of text.matchAll(/<input [^>]*name="([^"]+)"[^>]*value="([^"]*)"/g)) {
    fields[name] = value;
  }
  for (const [, name = '', value = ''] of text.matchAll(/<textarea [^>]*name="([^"]+)"[^>]*>([^<]*)</g)) {
    fields[name] = value;
  }
  for (const [, name = '', options = ''] of text.matchAll(
    /<select [^>]*name="([^"]+)"[^>]*>([\s\S]*?)<\/select>/g,
  )) {
    fields[name] = /value="([^"]*)" selected/.exec(options)?.[1] ?? '';
  }
  return fields;
}

/** The tables that a page's form shows. */
function areaOf(text: string, name: string): string {
  return new RegExp(`<textarea [^>]*name="${name}"[^>]*>([^<]*)<`).exec(text)?.[1] ?? '';
}

const circlesIn = (text: string) => [...text.matchAll(/<circle class="ps-thin"/g)].length;

describe('the form of a bolster', () => {
  const path = `/bolsters/${bolsterId}/change`;

  it('draws what it says, and fills its table from a grid with holes left out', async () => {
    const fields = await fieldsOn(admin, path);
    const drawn = await admin.post(path, { ...fields, do: 'draw' }).expect(200);
    expect(circlesIn(drawn.text)).toBe(20);
    const grid = {
      gridColumns: '3',
      gridRows: '2',
      gridPitchXMm: '50',
      gridPitchYMm: '40,5',
      gridFirstXMm: '-50',
      gridFirstYMm: '',
      gridLeaveOut: '3,2 1,1',
      thread: 'M8',
    };
    const filled = await admin.post(path, { ...fields, ...grid, do: 'grid' }).expect(200);
    expect(areaOf(filled.text, 'holes').trim().split('\n')).toEqual([
      '-50  20.25  M8  15  0.05',
      '0  -20.25  M8  15  0.05',
      '0  20.25  M8  15  0.05',
      '50  -20.25  M8  15  0.05',
    ]);
    expect(circlesIn(filled.text)).toBe(4);
  });

  it.each([
    [
      'a grid with a place that it has not',
      {
        do: 'grid',
        gridColumns: '3',
        gridRows: '2',
        gridPitchXMm: '50',
        gridPitchYMm: '40',
        gridLeaveOut: '4,1',
      },
      '“4,1” is no column and row',
    ],
    ['a line that is no hole', { do: 'draw', holes: '0 20\nten 4' }, 'Line 2: begin with x and y'],
    ['a thread that there is not', { do: 'draw', holes: '0 20 M7' }, '“M7” is not a thread'],
    ['a line too long', { do: 'draw', holes: '0 20 M6 15 0.05 7' }, '“7” is one too many'],
    ['an opening that is none', { do: 'draw', openings: 'circle 60' }, 'Line 1: give “circle x y diameter”'],
    ['one half without the other', { do: 'draw', halfFixedMm: '' }, 'Give both, or leave both empty.'],
    ['a figure that is none', { do: 'draw', sprueLengthMm: 'Infinity' }, 'Give a number from 1 to 300.'],
    ['no drawing', { do: 'drawing' }, 'Choose the DXF of the face first.'],
    ['no reason', { do: 'keep', largestStackMm: '61', why: '' }, 'Say why, in at most 200 characters.'],
    ['holes that run into each other', { do: 'draw', holes: '0 20\n4 20' }, 'run into each other'],
  ])('says what is wrong with %s, with everything typed still there', async (_what, change, told) => {
    const fields = await fieldsOn(admin, path);
    const reply = await admin.post(path, { ...fields, ...change }).expect(422);
    expect(reply.text).toContain(told);
    if ('holes' in change) expect(areaOf(reply.text, 'holes').trim()).toBe(change.holes);
  });

  it('shows the same table for openings as was typed', async () => {
    const openings = 'circle  60 0 12\nrectangle  -60 0 20 10\noutline  50 -70 60 -70 55 -60';
    const fields = await fieldsOn(admin, path);
    const reply = await admin.post(path, { ...fields, openings, do: 'draw' }).expect(200);
    expect(areaOf(reply.text, 'openings').trim()).toBe(openings);
  });

  it('is filled from a drawing: holes from the sprue axis, the face and its openings', async () => {
    const fields = await fieldsOn(admin, path);
    const { text } = await agent.get(path).expect(200);
    const sent = agent.post(path).set({ origin: house.url, 'sec-fetch-site': 'same-origin' });
    for (const [name, value] of Object.entries({ ...fields, _csrf: formTokenOf(text), do: 'drawing' })) {
      sent.field(name, value);
    }
    const reply = await sent.attach('dxf', Buffer.from(faceDrawing()), 'face.dxf');
    expect(reply.status).toBe(200);
    expect(areaOf(reply.text, 'holes').trim().split('\n')).toEqual([
      '-30  -20  M6  15  0.05',
      '30  20  M6  15  0.05',
    ]);
    expect(areaOf(reply.text, 'openings').trim()).toBe('circle  40 -30 10');
    expect(reply.text).toContain('name="faceWidthMm" type="text" value="120"');
    expect(reply.text).toContain('name="faceCentreXMm" type="text" value="10"');
    expect(reply.text).toContain('2 circles on BOLT, 5.1 mm across');
  });

  it('shows what a version does before it is kept, keeps it once, and tells who looked at the one before', async () => {
    const fields = await fieldsOn(admin, path);
    const change = { ...fields, largestStackMm: '70', why: 'Longer bolts', do: 'keep' };
    const seen = await admin.post(path, change).expect(200);
    expect(seen.text).toContain('No booking is touched');
    const hidden = [...seen.text.matchAll(/<input type="hidden" name="([^"]+)" value="([^"]*)">/g)];
    const confirmed = Object.fromEntries(hidden.map(([, name = '', value = '']) => [name, value]));
    const kept = await admin.post(`/bolsters/${bolsterId}/versions`, confirmed);
    expect([kept.status, kept.headers.location]).toEqual([303, `/bolsters/${bolsterId}`]);
    const { text } = await admin.get(`/bolsters/${bolsterId}`).expect(200);
    expect(text).toContain('Longer bolts');
    expect(text).toContain('70 mm');
    const late = await admin.post(`/bolsters/${bolsterId}/versions`, { ...confirmed, largestStackMm: '80' });
    expect(late.status).toBe(409);
    expect(late.text).toContain('changed');
  });
});

describe('the sheet of the press', () => {
  it('is changed after what it does was seen', async () => {
    const fields = await fieldsOn(admin, '/press/change');
    const change = {
      ...fields,
      openingStrokeMm: '190',
      chillerFlowLPerMin: '',
      chillerWaterC: '',
      why: 'Measured',
    };
    const seen = await admin.post('/press/preview', change).expect(200);
    expect(seen.text).toContain('no chiller');
    const kept = await admin.post('/press', change);
    expect(kept.status).toBe(303);
    const half = await admin.post('/press/preview', { ...change, chillerWaterC: '15' }).expect(422);
    expect(half.text).toContain('Give both, or leave both empty.');
  });

  it('takes the press out of service from now on, and puts it back', async () => {
    const { text: page } = await admin.get('/press').expect(200);
    const equipmentId = /<option value="([^"]+)"/.exec(page)?.[1] ?? '';
    const out = { equipmentId, toDate: '2026-11-27', toTime: '18:00', reason: 'Oil leak' };
    expect((await admin.fill('/press', '/outages', out)).status).toBe(303);
    const { text } = await admin.get('/press').expect(200);
    expect(text).toContain('Oil leak');
    const id = /\/outages\/([^/]+)\/back/.exec(text)?.[1] ?? '';
    expect((await admin.fill('/press', `/outages/${id}/back`)).status).toBe(303);
    const half = await admin.fill('/press', '/outages', { ...out, fromDate: '2026-11-26' });
    expect(half.text).toContain('Give both, or leave both empty.');
  });

  it('mounts another bolster with its reason', async () => {
    const path = `/bolsters/${keyedBolsterId}/mounting`;
    const { text } = await admin.get(path).expect(200);
    expect(text).toContain('Instead of Grid');
    expect((await admin.fill(path, path, { insteadOf: bolsterId })).status).toBe(422);
    const kept = await admin.fill(path, path, { insteadOf: bolsterId, why: 'For a week' });
    expect(kept.status).toBe(303);
    expect((await admin.get('/press')).text).toContain('For a week');
  });
});

/** A face of 120 by 100 mm about (210, 100), with the sprue at (200, 100), two holes and a round opening. */
function faceDrawing(): string {
  const circle = (layer: string, x: number, y: number, radius: number) =>
    `0\nCIRCLE\n8\n${layer}\n10\n${x}\n20\n${y}\n30\n0\n40\n${radius}\n`;
  const corners = [
    [150, 50],
    [270, 50],
    [270, 150],
    [150, 150],
  ];
  const outline = corners.map(([x, y]) => `10\n${x}\n20\n${y}\n`).join('');
  return [
    '0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n',
    `0\nLWPOLYLINE\n8\nPLATE\n90\n4\n70\n1\n${outline}`,
    circle('PLATE', 240, 70, 5),
    circle('BOLT', 170, 80, 2.55),
    circle('BOLT', 230, 120, 2.55),
    circle('FEED', 200, 100, 2),
    '0\nENDSEC\n0\nEOF\n',
  ].join('');
}
