import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { reasonsAgainst } from '../../server/plates/clearance/reasons-against.js';
import { clearanceHistoryReply, clearanceReply } from '../../server/plates/clearance/schemas.js';
import { standingClearance, worseThanAccepted } from '../../server/plates/clearance/standing.js';
import type { Clearance } from '../../server/plates/clearance/store.js';
import { platesReply, wholePlateReply } from '../../server/plates/schemas.js';
import { Refusal } from '../../server/reasons.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO, plainReport } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const { bolsterId, keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);
const odile = await signedInMember(house, 'steward');
const kofi = await signedInMember(house, 'steward');

type Headers = Record<string, string>;

async function newPlate(headers: Headers = wren.headers, more: object = {}): Promise<string> {
  const body = { name: 'Tile spacer', ...plateBody('tile-spacer-4up', more) };
  const reply = await api.post('/api/v1/plates').set(headers).send(body).expect(201);
  return wholePlateReply.decode(reply.body).id;
}

const decide = (plateId: string, body: object, headers: Headers = odile.headers, revision = 1) =>
  api
    .post(`/api/v1/plates/${plateId}/revisions/${revision}/clearance`)
    .set(headers)
    .send({ decision: 'clear', ...body });

const rework = (plateId: string, headers: Headers, revision = 1) =>
  api
    .post(`/api/v1/plates/${plateId}/revisions/${revision}/rework`)
    .set(headers)
    .send({ reason: 'Deburred.' });

async function historyOf(plateId: string, revision = 1, headers: Headers = wren.headers) {
  const reply = await api
    .get(`/api/v1/plates/${plateId}/revisions/${revision}/clearance`)
    .set(headers)
    .expect(200);
  return clearanceHistoryReply.decode(reply.body);
}

const standing = (plateId: string, revision = 1) =>
  standingClearance(database, { plateId, revision, bolsterId, bolsterVersion: 1 });

const reached = async (plateId: string, revision = 1) => (await standing(plateId, revision)).reached;

const MEASURED = [16.01, 16.0, 15.99, 16.0];
const FIT = { step: 'fit', measuredThicknessMm: MEASURED };
const TRIAL = { step: 'trial', note: 'Short shots from 2 to 4 cm3 in PP, no flash at 200 kN.' };

async function revise(plateId: string): Promise<void> {
  const body = plateBody('tile-spacer-4up', { thicknessMm: 17 });
  await api.post(`/api/v1/plates/${plateId}/revisions`).set(wren.headers).send(body).expect(201);
}

async function noticesOf(headers: Headers, plateId: string) {
  const reply = await api.get('/api/v1/notices').set(headers).expect(200);
  const { items } = reply.body as { items: readonly { kind: string; href: string }[] };
  return items.filter(({ href }) => href === `/plates/${plateId}`).map(({ kind }) => kind);
}

describe('the three steps', () => {
  it('take a plate from fit to production', async () => {
    const plateId = await newPlate();
    expect(await standing(plateId)).toMatchObject({ reached: 'none', clearanceId: null });
    const { clearanceId, steward } = await clearPlate(house, { plateId, polymers: ['PP', 'HDPE'] });
    expect(await standing(plateId)).toMatchObject({
      reached: 'production',
      clearanceId,
      polymers: ['HDPE', 'PP'],
    });
    const history = await historyOf(plateId);
    expect(history).toMatchObject({ reached: 'production', polymers: ['HDPE', 'PP'] });
    expect(history.items.map(({ step, decision, voidBecause }) => [step, decision, voidBecause])).toEqual([
      ['production', 'clear', null],
      ['trial', 'clear', null],
      ['fit', 'clear', null],
    ]);
    expect(history.items[2]).toMatchObject({
      bolster: { id: bolsterId, version: 1 },
      readings: { thicknessMm: [16, 16, 16, 16], parallelismMm: 0 },
      decidedBy: { id: steward.member.id },
    });
    expect(await noticesOf(wren.headers, plateId)).toEqual([
      'plate-cleared',
      'plate-cleared',
      'plate-cleared',
    ]);
  });

  it('go in order', async () => {
    const plateId = await newPlate();
    for (const step of ['trial', 'production']) {
      const reply = await decide(plateId, { step, polymers: ['PP'], note: 'Too soon.' }).expect(422);
      expect(codesOf(reply)).toContain('clearance-out-of-order');
    }
    await decide(plateId, FIT).expect(201);
    const reply = await decide(plateId, { step: 'production', polymers: ['PP'], note: 'Too soon.' });
    expect(codesOf(reply)).toContain('clearance-out-of-order');
    expect(await reached(plateId)).toBe('fit');
  });

  it('are each for one bolster', async () => {
    const plateId = await newPlate();
    await decide(plateId, { ...FIT, bolsterId: keyedBolsterId }).expect(201);
    expect(await reached(plateId)).toBe('none');
    const reply = await api
      .get(`/api/v1/plates/${plateId}/revisions/1/clearance`)
      .query({ bolsterId: keyedBolsterId })
      .set(wren.headers);
    expect(clearanceHistoryReply.decode(reply.body).reached).toBe('fit');
  });

  it('are never decided by the plate’s owner, nor by who does not steward', async () => {
    const own = await newPlate(odile.headers);
    expect(codesOf(await decide(own, FIT).expect(403))).toEqual(['clearance-own-plate']);
    await decide(own, FIT, kofi.headers).expect(201);
    const plateId = await newPlate();
    expect(codesOf(await decide(plateId, FIT, wren.headers).expect(403))).toEqual(['not-allowed']);
    const tamsin = await signedInMember(house);
    expect(codesOf(await decide(plateId, FIT, tamsin.headers).expect(404))).toEqual(['not-found']);
  });
});

describe('a plate that changes hands', () => {
  const handOver = (plateId: string, memberId: string, headers: Headers) =>
    api.put(`/api/v1/plates/${plateId}/owner`).set(headers).send({ memberId });

  it('is not cleared by whoever drew it', async () => {
    const plateId = await newPlate(odile.headers);
    await handOver(plateId, wren.member.id, odile.headers).expect(204);
    expect(codesOf(await decide(plateId, FIT).expect(403))).toEqual(['clearance-own-plate']);
    await decide(plateId, FIT, kofi.headers).expect(201);
    await revise(plateId);
    await decide(plateId, { ...FIT, measuredThicknessMm: [17, 17, 17, 17] }, odile.headers, 2).expect(201);
  });

  it('does not go back to whoever cleared it', async () => {
    const plateId = await newPlate();
    await decide(plateId, FIT).expect(201);
    const back = await handOver(plateId, odile.member.id, wren.headers).expect(422);
    expect(codesOf(back)).toEqual(['new-owner-decided']);
  });
});

describe('the fit', () => {
  it('needs four readings', async () => {
    const plateId = await newPlate();
    expect(codesOf(await decide(plateId, { step: 'fit' }).expect(422))).toEqual(['readings-missing']);
    await decide(plateId, { step: 'fit', measuredThicknessMm: [16, 16, 16] }).expect(400);
    await decide(plateId, { step: 'fit', measuredThicknessMm: [16, 16, 16, -1] }).expect(400);
  });

  it('may be cleared with no hole measured, and the history says so', async () => {
    const [without, measured] = [await newPlate(), await newPlate()];
    await decide(without, FIT).expect(201);
    await decide(measured, { ...FIT, readings: { holes: [{ hole: 1, diameterMm: 6.6 }] } }).expect(201);
    const visitor = visitorOf(house);
    await visitor.signIn(odile.member);
    const page = async (plateId: string) => (await visitor.get(`/plates/${plateId}/clearance`)).text;
    expect(await page(without)).toContain('No hole was measured.');
    expect(await page(measured)).toContain('Holes measured: 1.');
  });

  it('recognises a reading in inches, and says what was meant', async () => {
    const plateId = await newPlate();
    const body = {
      step: 'fit',
      measuredThicknessMm: [0.63, 16, 16, 16],
      readings: { holes: [{ hole: 1, diameterMm: 0.26 }] },
    };
    const reply = await decide(plateId, body).expect(422);
    expect(reply.body.reasons).toMatchObject([
      {
        code: 'reading-in-inches',
        field: 'measuredThicknessMm.0',
        fix: expect.stringContaining('did you mean 16.0 mm?'),
      },
      {
        code: 'reading-in-inches',
        field: 'readings.holes.0.diameterMm',
        fix: expect.stringContaining('did you mean 6.6 mm?'),
      },
    ]);
    const refused = { ...body, decision: 'refuse', note: 'Not cut yet.' };
    expect(codesOf(await decide(plateId, refused).expect(422))).toContain('reading-in-inches');
  });

  it('tells a reading that contradicts the drawing by how much, and clears it with none', async () => {
    const plateId = await newPlate();
    const reply = await decide(plateId, { step: 'fit', measuredThicknessMm: [16, 16, 15.2, 16] }).expect(422);
    const [first] = reply.body.reasons as readonly { code: string; message: string; field: string }[];
    expect(first).toMatchObject({ code: 'reading-contradicts-drawing', field: 'measuredThicknessMm.2' });
    expect(first?.message).toContain('15.2 mm, and the drawing says 16 mm: 0.8 mm off');
    expect(await reached(plateId)).toBe('none');
  });

  it('needs a note where readings are off by more than usual', async () => {
    const plateId = await newPlate();
    const off = { step: 'fit', measuredThicknessMm: [16.2, 16.2, 16.2, 16.2] };
    expect(codesOf(await decide(plateId, off).expect(422))).toEqual(['note-missing']);
    await decide(plateId, { ...off, note: 'Stock was left thicker.' }).expect(201);
    const [made] = (await historyOf(plateId)).items;
    expect(made?.readings?.judged.filter(({ verdict }) => verdict === 'caution')).toHaveLength(4);
  });

  it('holds holes, sinks and feed against drawing, screws and bolster', async () => {
    const plateId = await newPlate();
    const readings = {
      holes: [
        { hole: 1, diameterMm: 6.6, sinkDiameterMm: 11, sinkDepthMm: 7 },
        { hole: 2, diameterMm: 5.9, sinkDepthMm: 5.5 },
        { hole: 99, diameterMm: 6.6 },
      ],
      burrsRemoved: true,
      headsBelowFace: false,
    };
    const reply = await decide(plateId, { ...FIT, readings }).expect(422);
    expect(
      reply.body.reasons.map(({ code, field }: { code: string; field: string }) => [code, field]),
    ).toEqual([
      ['reading-contradicts-drawing', 'readings.holes.1.diameterMm'],
      ['reading-contradicts-drawing', 'readings.holes.1.sinkDepthMm'],
      ['reading-hole-not-drawn', 'readings.holes.2.hole'],
      ['fit-unfinished', 'readings.headsBelowFace'],
    ]);
  });
});

describe('the trial', () => {
  it('without its sheet is told in a note', async () => {
    const plateId = await newPlate();
    await decide(plateId, FIT).expect(201);
    expect(codesOf(await decide(plateId, { step: 'trial' }).expect(422))).toEqual(['note-missing']);
    const made = await decide(plateId, TRIAL).expect(201);
    expect(clearanceReply.decode(made.body)).toMatchObject({ trialRunId: null, note: TRIAL.note });
  });

  it('names a run of this revision, or none', async () => {
    const plateId = await newPlate();
    await decide(plateId, FIT).expect(201);
    const reply = await decide(plateId, { step: 'trial', trialRunId: plateId, note: 'Seen.' });
    expect(codesOf(reply)).toEqual(['not-found']);
  });
});

describe('production', () => {
  /** Its report in PP on today's ground, with the findings given. */
  async function plateWithReport(findings: readonly { check: string; verdict: string }[]): Promise<string> {
    const plateId = await newPlate();
    const verdict = findings.some((one) => one.verdict === 'stop') ? 'stop' : 'clear';
    await plainReport(database, plateId, verdict, 'PP', 1, findings);
    await clearPlate(house, { plateId, through: 'trial' });
    return plateId;
  }

  const production = (plateId: string, more: object = {}) =>
    decide(plateId, { step: 'production', polymers: ['PP'], ...more });

  it('needs a resin that is known', async () => {
    const plateId = await newPlate();
    await clearPlate(house, { plateId, through: 'trial' });
    expect(codesOf(await production(plateId, { polymers: [] }).expect(422))).toEqual(['polymers-missing']);
    expect(codesOf(await production(plateId, { polymers: ['XYZ'] }).expect(422))).toEqual([
      'polymer-unknown',
    ]);
  });

  it('takes every caution and unknown by its name, with a note; a stop never', async () => {
    const plateId = await plateWithReport([
      { check: 'walls', verdict: 'caution' },
      { check: 'daylight', verdict: 'unknown' },
      { check: 'face', verdict: 'clear' },
    ]);
    const none = await production(plateId, { note: 'Fine.' }).expect(422);
    expect(codesOf(none)).toEqual(['caution-not-accepted']);
    expect(none.body.reasons[0].message).toContain('Walls');
    const half = await production(plateId, { note: 'Fine.', acceptedCautions: ['walls'] }).expect(422);
    expect(half.body.reasons[0].message).not.toContain('Walls');
    const acceptedCautions = ['walls', { check: 'daylight', polymer: 'PP', note: 'Measured 16.0.' }];
    expect(codesOf(await production(plateId, { acceptedCautions }).expect(422))).toEqual(['note-missing']);
    const made = await production(plateId, { acceptedCautions, note: 'Thin wall watched.' }).expect(201);
    expect(clearanceReply.decode(made.body).reports).toMatchObject([
      {
        polymer: 'PP',
        acceptedCautions: [
          { check: 'walls', verdict: 'caution', note: null },
          { check: 'daylight', verdict: 'unknown', note: 'Measured 16.0.' },
        ],
      },
    ]);
    const now = await standing(plateId);
    expect(now.accepted).toMatchObject([{ polymer: 'PP', cautions: ['walls', 'daylight'] }]);
    const worse = (check: string, verdict: 'clear' | 'caution' | 'unknown' | 'stop', polymer = 'PP') =>
      worseThanAccepted(now, { polymer, findings: [{ check, verdict }] }).map((one) => one.now);
    expect([worse('walls', 'caution'), worse('walls', 'clear'), worse('daylight', 'caution')]).toEqual([
      [],
      [],
      [],
    ]);
    expect(worse('walls', 'unknown')).toEqual(['unknown']);
    expect(worse('face', 'caution')).toEqual(['caution']);
    expect(worse('walls', 'caution', 'HDPE')).toEqual(['caution']);

    const stopped = await plateWithReport([{ check: 'walls', verdict: 'stop' }]);
    const reply = await production(stopped, { acceptedCautions: ['walls'], note: 'Fine.' }).expect(422);
    expect(codesOf(reply)).toEqual(['report-has-stop']);
  });

  it('is given for further resins on top of what stands', async () => {
    const plateId = await plateWithReport([{ check: 'face', verdict: 'clear' }]);
    await production(plateId).expect(201);
    const again = await production(plateId).expect(409);
    expect(codesOf(again)).toEqual(['clearance-stands']);
    await plainReport(database, plateId, 'clear', 'HDPE', 1, [{ check: 'face', verdict: 'clear' }]);
    await production(plateId, { polymers: ['HDPE'] }).expect(201);
    expect((await standing(plateId)).polymers).toEqual(['HDPE', 'PP']);
  });
});

describe('a plate goes back', () => {
  it('when it is refused, with a reason its owner is told; rework puts it forward again', async () => {
    const plateId = await newPlate();
    expect(codesOf(await decide(plateId, { step: 'fit', decision: 'refuse' }).expect(422))).toEqual([
      'note-missing',
    ]);
    await decide(plateId, { step: 'fit', decision: 'refuse', note: 'Burrs at hole 3.' }).expect(201);
    expect(await standing(plateId)).toMatchObject({ reached: 'none', refusedBecause: 'Burrs at hole 3.' });
    expect(await noticesOf(wren.headers, plateId)).toEqual(['plate-refused']);
    await rework(plateId, wren.headers).expect(201);
    await decide(plateId, FIT).expect(201);
    expect(await reached(plateId)).toBe('fit');
  });

  it('to fit by rework, on every bolster, from its owner or a steward', async () => {
    const plateId = await newPlate();
    expect(codesOf(await rework(plateId, wren.headers).expect(409))).toEqual([
      'clearance-nothing-to-take-back',
    ]);
    await clearPlate(house, { plateId });
    await decide(plateId, { ...FIT, bolsterId: keyedBolsterId }).expect(201);
    const reply = await rework(plateId, odile.headers).expect(201);
    expect(reply.body.items).toHaveLength(2);
    expect(await reached(plateId)).toBe('none');
    expect((await historyOf(plateId)).items.map(({ voidBecause }) => voidBecause)).toEqual([
      null,
      null,
      'reworked',
      'reworked',
      'reworked',
      'reworked',
    ]);
    expect(await noticesOf(wren.headers, plateId)).toContain('plate-reworked');
    const tamsin = await signedInMember(house);
    await rework(plateId, tamsin.headers).expect(404);
  });

  it('to before the step that a steward takes back', async () => {
    const plateId = await newPlate();
    await clearPlate(house, { plateId });
    await decide(plateId, { step: 'production', decision: 'void', note: 'Parts stuck.' }).expect(201);
    expect(await reached(plateId)).toBe('trial');
    await decide(plateId, { step: 'fit', decision: 'void', note: 'Dropped.' }).expect(201);
    expect(await reached(plateId)).toBe('none');
    const reply = await decide(plateId, { step: 'trial', decision: 'void', note: 'Again.' }).expect(409);
    expect(codesOf(reply)).toEqual(['clearance-nothing-to-take-back']);
  });

  it('when a revision follows: an old one is neither cleared nor reworked, and the latest is told', async () => {
    const plateId = await newPlate();
    await clearPlate(house, { plateId });
    await revise(plateId);
    expect([await reached(plateId, 1), await reached(plateId, 2)]).toEqual(['none', 'none']);
    expect((await historyOf(plateId, 1)).items.map(({ voidBecause }) => voidBecause)).toEqual([
      'revised',
      'revised',
      'revised',
    ]);
    const reply = await decide(plateId, FIT).expect(422);
    expect(codesOf(reply)).toEqual(['revision-not-latest']);
    expect(reply.body.reasons[0].message).toContain('the latest is 2');
    expect(codesOf(await rework(plateId, wren.headers))).toEqual(['revision-not-latest']);
    await decide(plateId, FIT, odile.headers, 3).expect(404);
  });
});

describe('at the same moment', () => {
  it('two stewards: one decides, the other is told what stands', async () => {
    const plateId = await newPlate();
    const replies = await Promise.all([decide(plateId, FIT), decide(plateId, FIT, kofi.headers)]);
    expect(replies.map(({ status }) => status).sort()).toEqual([201, 409]);
    const late = replies.find(({ status }) => status === 409);
    expect(late?.body.reasons).toMatchObject([
      { code: 'clearance-stands', message: expect.stringMatching(/cleared for fit already, by steward \d/) },
    ]);
  });

  it('a revision and a clearance: nothing stands of a revision that was followed', async () => {
    for (let round = 0; round < 10; round += 1) {
      const plateId = await newPlate();
      const [cleared] = await Promise.all([decide(plateId, FIT), revise(plateId)]);
      if (cleared?.status !== 201) expect(codesOf(cleared ?? { body: {} })).toEqual(['revision-not-latest']);
      expect([await reached(plateId, 1), await reached(plateId, 2)]).toEqual(['none', 'none']);
    }
  });

  it('the same with one key is done once', async () => {
    const plateId = await newPlate();
    const once = () => decide(plateId, FIT).set('idempotency-key', 'fit of the tile spacer');
    const replies = await Promise.all([once(), once()]);
    const later = await once();
    expect(replies.map(({ status }) => status)).toEqual([201, 201]);
    expect(new Set([...replies, later].map(({ body }) => body.id)).size).toBe(1);
    const other = await decide(plateId, TRIAL).set('idempotency-key', 'fit of the tile spacer');
    expect(codesOf(other)).toEqual(['idempotency-key-reused']);
  });
});

describe('lists', () => {
  it('say which plates are cleared, and give those alone', async () => {
    const nuria = await signedInMember(house);
    const ids = [await newPlate(nuria.headers), await newPlate(nuria.headers), await newPlate(nuria.headers)];
    await clearPlate(house, { plateId: ids[0] ?? '' });
    await clearPlate(house, { plateId: ids[1] ?? '', through: 'trial' });
    const listed = async (query: object) => {
      const reply = await api.get('/api/v1/plates').query(query).set(nuria.headers).expect(200);
      return platesReply.decode(reply.body).items;
    };
    expect((await listed({ cleared: true })).map(({ id, cleared }) => [id, cleared])).toEqual([
      [ids[0], true],
    ]);
    expect((await listed({ cleared: false })).map(({ id }) => id).sort()).toEqual(ids.slice(1).sort());
    expect((await listed({})).filter(({ cleared }) => cleared)).toHaveLength(1);
    const whole = await api.get(`/api/v1/plates/${ids[0]}`).set(nuria.headers);
    expect(whole.body.cleared).toBe(true);
  });
});

describe('a trial run', () => {
  const thing = { plateId: 'plate', revision: 2, bolsterId: 'bolster', bolsterVersion: 3 };
  const run = {
    ...thing,
    id: 'run',
    polymer: 'PP',
    outcome: 'runs-well',
    openedAt: LONG_AGO,
    closedAt: LONG_AGO,
  };
  const fit = { decision: 'clear', step: 'fit', decidedAt: LONG_AGO } as Clearance;

  /** Codes of what speaks against a trial that names this run. */
  function against(led: object): readonly string[] {
    const judged = reasonsAgainst({
      wanted: {
        plateId: 'plate',
        revision: 2,
        bolsterId: 'bolster',
        step: 'trial',
        decision: 'clear',
        polymers: [],
        accepted: [],
        readings: null,
        trialRunId: 'run',
        note: null,
      },
      thing,
      latest: 2,
      decisions: [fit],
      reports: [],
      prepared: { fit: null, trialRuns: [{ ...run, ...led }] },
    });
    return judged instanceof Refusal ? judged.reasons.map(({ code }) => code) : [];
  }

  it('clears when it ran well, on this revision and this version of the bolster', () => {
    expect(against({})).toEqual([]);
    expect(against({ outcome: 'needs-rework' })).toEqual(['clearance-trial-not-well']);
    expect(against({ outcome: 'stopped' })).toEqual(['clearance-trial-not-well']);
    for (const other of [{ id: 'x' }, { revision: 1 }, { bolsterId: 'x' }, { bolsterVersion: 2 }]) {
      expect(against(other)).toEqual(['not-found']);
    }
    // Before the metal was measured as it is now: it was reworked since.
    expect(against({ openedAt: new Date(LONG_AGO.getTime() - 1) })).toEqual(['not-found']);
  });
});
