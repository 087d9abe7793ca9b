import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { wholePlateReply } from '../../server/plates/schemas.js';
import { PRE_USE_LINES } from '../../server/runs/pre-use.js';
import { runReply, runsReply, trialPlanReply } from '../../server/runs/schemas.js';
import { closedTrials } from '../../server/runs/store.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { openedTrial, trialBookedNow } from '../support/opened-trial.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
// A Wednesday at ten.
const house = await testHouse(database, {
  at: '2026-11-25T10:00:00Z',
  settings: { sessionIdleMinutes: 30 * 24 * 60, sessionHours: 30 * 24 },
});
await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);

type Headers = Record<string, string>;

const odile = await signedInMember(house, 'steward');
const bram = await makeMember(house);

/** A plate that is measured and waits for its trial. */
async function fittingPlate(headers: Headers = wren.headers): Promise<string> {
  const body = { name: 'Tile spacer', ...plateBody('tile-spacer-4up') };
  const { id } = wholePlateReply.decode(
    (await api.post('/api/v1/plates').set(headers).send(body).expect(201)).body,
  );
  await api.get(`/api/v1/plates/${id}/revisions/1/check?polymer=PP`).set(headers).expect(200);
  await clearPlate(house, { plateId: id, through: 'fit' });
  return id;
}

const plateId = await fittingPlate();

/** A trial of Wren's whose time it is; whatever was booked before is over. */
async function booked(): Promise<string> {
  house.clock.turn(240);
  return trialBookedNow(house, { memberId: wren.member.id, plateId });
}

const WHOLE = {
  preUse: PRE_USE_LINES,
  withinCall: { name: 'Aldo from next door' },
  attendedBy: odile.member.id,
};

const open = (bookingId: string, body: object = WHOLE, headers: Headers = wren.headers) =>
  api.post(`/api/v1/bookings/${bookingId}/run`).set(headers).send(body);

const step = (runId: string, body: object, headers: Headers = wren.headers) =>
  api.post(`/api/v1/runs/${runId}/steps`).set(headers).send(body);

const close = (runId: string, body: object, headers: Headers = wren.headers) =>
  api.post(`/api/v1/runs/${runId}/closing`).set(headers).send(body);

const runOf = async (runId: string) =>
  runReply.decode((await api.get(`/api/v1/runs/${runId}`).set(wren.headers).expect(200)).body);

async function openNew(): Promise<string> {
  return runReply.decode((await open(await booked()).expect(201)).body).id;
}

/** Closes whatever is open, so that the press is idle for the next test. */
async function stop(runId: string): Promise<void> {
  await close(runId, { outcome: 'stopped', note: 'The test is over.' }).expect(201);
}

describe('opening a run', () => {
  it('takes every line ticked, somebody within call and, for a trial, a steward beside it', async () => {
    const reply = await open(await booked()).expect(201);
    const run = runReply.decode(reply.body);
    expect(run).toMatchObject({
      kind: 'trial',
      withinCall: 'Aldo from next door',
      attendedBy: odile.member.displayName,
      openedBy: wren.member.displayName,
      preUse: PRE_USE_LINES,
      closedAt: null,
      dueStep: 'close-gently',
      steps: [],
    });
    await stop(run.id);
  });

  it('names at once all that is missing, line by line', async () => {
    const reply = await open(await booked(), { preUse: ['guards', 'hoses'] }).expect(422);
    expect(codesOf(reply)).toEqual(['pre-use-missing', 'within-call-missing', 'trial-unattended']);
    const { message } = reply.body.reasons[0];
    for (const line of ['The area is clear', 'The emergency stop stops it', 'Nothing leaks']) {
      expect(message).toContain(line);
    }
    expect(message).not.toContain('Guards and interlocks');
  });

  it('refuses oneself within call, by id and by name, and somebody who is not there', async () => {
    const bookingId = await booked();
    const called = async (withinCall: object) => codesOf(await open(bookingId, { ...WHOLE, withinCall }));
    expect(await called({ memberId: wren.member.id })).toEqual(['within-call-oneself']);
    expect(await called({ name: `  ${wren.member.displayName.toUpperCase()} ` })).toEqual([
      'within-call-oneself',
    ]);
    expect(await called({ memberId: '00000000-0000-4000-8000-000000000000' })).toEqual(['not-found']);
  });

  it('wants a steward beside a trial: no member, and not the one whose booking it is', async () => {
    const attended = async (attendedBy: string) =>
      codesOf(await open(await booked(), { ...WHOLE, attendedBy }));
    expect(await attended(bram.id)).toEqual(['trial-unattended']);
    expect(await attended(wren.member.id)).toEqual(['trial-unattended']);
  });

  it('is done ten minutes before the booking at the earliest, and before it is over', async () => {
    house.clock.turn(240);
    house.clock.turn(30);
    const bookingId = await trialBookedNow(house, { memberId: wren.member.id, plateId });
    house.clock.turn(-11);
    expect(codesOf(await open(bookingId).expect(422))).toEqual(['run-outside-booking']);
    house.clock.turn(1);
    const { id } = runReply.decode((await open(bookingId).expect(201)).body);
    await stop(id);
    house.clock.turn(70);
    expect(codesOf(await open(bookingId).expect(422))).toEqual(['run-outside-booking']);
  });

  it('wants the sign-offs of whoever opens it, now; a steward opens for others with their own', async () => {
    const bookingId = await booked();
    const idle = await signedInMember(house, 'steward', ['stewarding']);
    expect(codesOf(await open(bookingId, WHOLE, idle.headers).expect(422))).toEqual(['signoff-missing']);
    const run = runReply.decode((await open(bookingId, WHOLE, odile.headers).expect(201)).body);
    expect(run).toMatchObject({ openedBy: odile.member.displayName, displayName: wren.member.displayName });
    await stop(run.id);
  });

  it('is for the booking’s member and stewards alone', async () => {
    const other = await signedInMember(house);
    const bookingId = await booked();
    await open(bookingId, WHOLE, other.headers).expect(403);
    await open('00000000-0000-4000-8000-000000000000').expect(404);
  });

  it('refuses a cancelled booking, and one whose plate went back to be measured', async () => {
    const cancelled = await booked();
    await api.delete(`/api/v1/bookings/${cancelled}`).set(wren.headers).expect(200);
    expect(codesOf(await open(cancelled).expect(409))).toEqual(['booking-already-cancelled']);
    const other = await fittingPlate();
    house.clock.turn(240);
    const bookingId = await trialBookedNow(house, { memberId: wren.member.id, plateId: other });
    await api
      .post(`/api/v1/plates/${other}/revisions/1/rework`)
      .set(wren.headers)
      .send({ reason: 'Deburred.' })
      .expect(201);
    expect(codesOf(await open(bookingId).expect(422))).toEqual([
      'run-booking-needs-attention',
      'run-not-cleared',
    ]);
  });

  it('finds the press idle, or is told whose run is open', async () => {
    const bookingId = await booked();
    const first = runReply.decode((await open(bookingId).expect(201)).body);
    const refused = await open(bookingId).expect(409);
    expect(codesOf(refused)).toEqual(['run-open-already']);
    expect(refused.body.reasons[0].message).toContain(wren.member.displayName);
    await stop(first.id);
    await stop(runReply.decode((await open(bookingId).expect(201)).body).id);
  });

  it('is done once for a key', async () => {
    const bookingId = await booked();
    const again = () => open(bookingId).set('idempotency-key', 'one press of the button');
    const [one, other] = await Promise.all([again(), again()]);
    expect([one.status, other.status]).toEqual([201, 201]);
    expect(one.body.id).toBe(other.body.id);
    await stop(one.body.id);
  });

  it('tells the steward who is named, and who is within call', async () => {
    const runId = runReply.decode(
      (await open(await booked(), { ...WHOLE, withinCall: { memberId: bram.id } }).expect(201)).body,
    ).id;
    const told = await database.query<{ member_id: string; kind: string; href: string }>(
      `select member_id, kind, href from notice where href in ($1, '/cautions') and created_at = $2`,
      [`/runs/${runId}`, house.clock.now()],
    );
    expect(told).toEqual(
      expect.arrayContaining([
        { member_id: odile.member.id, kind: 'trial-attended', href: `/runs/${runId}` },
        { member_id: bram.id, kind: 'within-call', href: '/cautions' },
      ]),
    );
    await stop(runId);
  });
});

describe('a booking whose run is open', () => {
  it('is neither cancelled nor moved until it is closed', async () => {
    const bookingId = await booked();
    const { id } = runReply.decode((await open(bookingId).expect(201)).body);
    const cancel = () => api.delete(`/api/v1/bookings/${bookingId}`).set(wren.headers);
    expect(codesOf(await cancel().expect(409))).toEqual(['booking-run-open']);
    await stop(id);
    await cancel().expect(200);
  });
});

describe('a trial', () => {
  it('is planned from the drawing and the press as they are', async () => {
    const bookingId = await booked();
    const plan = trialPlanReply.decode(
      (await api.get(`/api/v1/bookings/${bookingId}/trial-plan`).set(wren.headers).expect(200)).body,
    );
    const { body: report } = await api
      .get(`/api/v1/plates/${plateId}/revisions/1/check?polymer=PP`)
      .set(wren.headers)
      .expect(200);
    // Screw of 28 mm: 615.752 mm2; the sprue holds 142.681 mm3.
    const mm = (report.drawing.volumeMm3.moulded + 142.681) / 615.752;
    expect(plan.screwMm).toBeCloseTo(mm, 3);
    const land = report.findings.find(({ check }: { check: string }) => check === 'land-pressure').figures;
    const shot = plan.steps.find(({ name }) => name === 'short-shot-50');
    expect(shot?.set.screwMm).toBeCloseTo(mm / 2, 3);
    expect(shot?.set.clampKn).toBe(Math.ceil(land.windowMinKn));
    const forces = plan.steps.flatMap(({ set }) => set.clampKn ?? []);
    expect(Math.max(...forces)).toBeLessThanOrEqual(land.windowMaxKn);
    await api
      .get(`/api/v1/bookings/${bookingId}/trial-plan`)
      .set((await signedInMember(house)).headers)
      .expect(403);
  });

  it('goes on, again and back, keeps all of it, and ends running well only when it is through', async () => {
    const runId = await openNew();
    const kept = async (body: object) => runReply.decode((await step(runId, body).expect(201)).body);
    expect(codesOf(await step(runId, { step: 'close-gently', went: 'back' }).expect(422))).toEqual([
      'trial-nothing-before',
    ]);
    expect((await kept({ step: 'close-gently', seen: ['closes-evenly'], went: 'on' })).dueStep).toBe(
      'short-shot-50',
    );
    const set = { screwMm: 8, clampKn: 140 };
    expect((await kept({ step: 'short-shot-50', setAs: set, went: 'again' })).dueStep).toBe('short-shot-50');
    expect((await kept({ step: 'short-shot-50', setAs: set, went: 'back' })).dueStep).toBe('close-gently');
    expect(codesOf(await step(runId, { step: 'short-shot-50', went: 'on' }).expect(409))).toEqual([
      'changed-meanwhile',
    ]);
    expect(codesOf(await close(runId, { outcome: 'runs-well' }).expect(422))).toEqual(['trial-unfinished']);
    let due: string | null = 'close-gently';
    while (due !== null && !due.startsWith('clamp-force'))
      due = (await kept({ step: due, seen: [goodSign(due)], went: 'on' })).dueStep;
    const closed = runReply.decode((await close(runId, { outcome: 'runs-well' }).expect(201)).body);
    expect(closed).toMatchObject({ outcome: 'runs-well', dueStep: null });
    const { steps } = await runOf(runId);
    expect(steps.slice(0, 3)).toMatchObject([
      { step: 'close-gently', went: 'on', seen: ['closes-evenly'], keptBy: wren.member.displayName },
      { step: 'short-shot-50', went: 'again', setAs: set },
      { step: 'short-shot-50', went: 'back', setAs: set },
    ]);
    expect(codesOf(await step(runId, { step: 'clamp-force-1', went: 'on' }).expect(409))).toEqual([
      'run-closed',
    ]);
    expect(codesOf(await close(runId, { outcome: 'runs-well' }).expect(409))).toEqual(['run-closed']);
    expect((await closedTrials(database, plateId))[0]).toMatchObject({
      id: runId,
      outcome: 'runs-well',
      polymer: 'PP',
    });
  });

  it('goes on by what was seen, never past a plate that strikes, and runs well by its last look', async () => {
    const runId = await openNew();
    const refused = async (body: object) => codesOf(await step(runId, { went: 'on', ...body }).expect(422));
    const gently = { step: 'close-gently' };
    expect(await refused(gently)).toEqual(['trial-seen-nothing']);
    expect(await refused({ ...gently, seen: ['strikes'], note: 'A little.' })).toEqual([
      'trial-goes-no-further',
    ]);
    for (const setAs of [{ clampKn: 9000 }, { screwMm: 500 }, { holdMpa: 399 }]) {
      expect(await refused({ ...gently, seen: ['closes-evenly'], setAs })).toEqual(['set-beyond-press']);
    }
    const kept = async (body: object) => runReply.decode((await step(runId, body).expect(201)).body);
    let due = (await kept({ ...gently, seen: ['closes-evenly'], went: 'on' })).dueStep;
    expect(await refused({ step: due, seen: ['flash'] })).toEqual(['trial-on-against-sign']);
    const why = { seen: ['flash'], note: 'At one vent, gone with less speed.' };
    due = (await kept({ step: due, ...why, went: 'on' })).dueStep;
    while (due !== null && due !== 'part-release')
      due = (await kept({ step: due, seen: [goodSign(due)], went: 'on' })).dueStep;
    due = (await kept({ step: due, seen: ['sticks'], note: 'On the core.', went: 'on' })).dueStep;
    expect(codesOf(await close(runId, { outcome: 'runs-well' }).expect(422))).toEqual(['trial-ended-badly']);
    await close(runId, { outcome: 'needs-rework', note: 'The core wants draft.' }).expect(201);
  });

  it('that was stopped says why, takes no more steps and did not run well', async () => {
    const runId = await openNew();
    expect(codesOf(await step(runId, { step: 'close-gently', went: 'stop' }).expect(422))).toEqual([
      'trial-stop-says-why',
    ]);
    await step(runId, { step: 'close-gently', seen: ['strikes'], went: 'stop' }).expect(201);
    expect(codesOf(await step(runId, { step: 'close-gently', went: 'on' }).expect(409))).toEqual([
      'trial-stopped',
    ]);
    expect(codesOf(await close(runId, { outcome: 'runs-well' }).expect(409))).toEqual(['trial-stopped']);
    expect(codesOf(await close(runId, { outcome: 'needs-rework' }).expect(422))).toEqual(['run-says-why']);
    await close(
      runId,
      { outcome: 'needs-rework', note: 'Head of the second screw strikes.' },
      odile.headers,
    ).expect(201);
  });

  it('takes what can be seen at a step and nothing else, in figures that can be', async () => {
    const runId = await openNew();
    const refusedAs = async (body: object) =>
      codesOf(await step(runId, { step: 'close-gently', went: 'on', ...body }).expect(400));
    expect(await refusedAs({ seen: ['sink-mark'] })).toEqual(['field-invalid']);
    expect(await refusedAs({ seen: ['a ghost'] })).toEqual(['field-invalid']);
    expect(await refusedAs({ setAs: { clampKn: -1 } })).toEqual(['field-invalid']);
    expect(await refusedAs({ setAs: { tons: 4 } })).toEqual(['field-invalid']);
    await stop(runId);
    expect(codesOf(await close(await openNew(), { outcome: 'finished' }).expect(400))).toEqual([
      'field-invalid',
    ]);
    await stop((await api.get('/api/v1/runs?limit=1').set(wren.headers)).body.items[0].id);
  });

  it('is what the step trial of a clearance names', async () => {
    const runs = await closedTrials(database, plateId);
    const run = runs.find(({ outcome }) => outcome === 'runs-well');
    const reply = await api
      .post(`/api/v1/plates/${plateId}/revisions/1/clearance`)
      .set(odile.headers)
      .send({ step: 'trial', decision: 'clear', trialRunId: run?.id })
      .expect(201);
    expect(reply.body.trialRunId).toBe(run?.id);
  });
});

describe('runs', () => {
  it('are seen by their member and by stewards', async () => {
    const list = async (headers: Headers, query = '') =>
      runsReply.decode((await api.get(`/api/v1/runs${query}`).set(headers).expect(200)).body);
    const own = await list(wren.headers);
    expect(own.items.length).toBeGreaterThan(3);
    expect((await list(odile.headers)).items.map(({ id }) => id)).toEqual(own.items.map(({ id }) => id));
    expect((await list(odile.headers, '?mine=true')).items).toEqual([]);
    const other = await signedInMember(house);
    expect((await list(other.headers)).items).toEqual([]);
    await api.get(`/api/v1/runs/${own.items[0]?.id}`).set(other.headers).expect(404);
    const first = await list(wren.headers, '?limit=2');
    const second = await list(wren.headers, `?limit=2&cursor=${first.next}`);
    expect([...first.items, ...second.items].map(({ id }) => id)).toEqual(
      own.items.slice(0, 4).map(({ id }) => id),
    );
  });

  it('of a member who leaves are closed, before their press time is given back', async () => {
    house.clock.turn(240);
    const jory = await signedInMember(house);
    const id = await fittingPlate(jory.headers);
    const { runId, bookingId } = await openedTrial(house, {
      memberId: jory.member.id,
      headers: jory.headers,
      plateId: id,
    });
    const admin = await signedInMember(house, 'admin');
    await api.post(`/api/v1/members/${jory.member.id}/leaving`).set(admin.headers).expect(200);
    const [run] = await database.query(
      'select r.outcome, b.status from run r join booking b on b.id = r.booking_id where r.id = $1 and b.id = $2',
      [runId, bookingId],
    );
    expect(run).toEqual({ outcome: 'stopped', status: 'cancelled' });
  });
});

/** What is ticked when a step went as it should. */
function goodSign(step: string): string {
  const kind = Object.keys(GOOD_SIGNS).find((one) => step.startsWith(one)) ?? '';
  return GOOD_SIGNS[kind] ?? '';
}

const GOOD_SIGNS: { readonly [kind: string]: string } = {
  'close-gently': 'closes-evenly',
  'short-shot': 'fills-evenly',
  'full-shot': 'full',
  hold: 'sink-gone',
  'flash-check': 'no-flash',
  'part-release': 'lifts-freely',
  'clamp-force': 'no-flash',
};
