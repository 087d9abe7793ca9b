import fc from 'fast-check';
import supertest from 'supertest';
import { expect, it } from 'vitest';
import { lookAtAll } from '../../server/bookings/look-again.js';
import { transact } from '../../server/database/transaction.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { groundChanges } from '../support/ground-changes.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { bearerOf, signedInMember } from '../support/sign-in.js';

/**
 * Whatever happens in whatever order to plates, people, press and rules: no production booking that is to come is
 * booked on a plate that is not cleared for its revision and the bolster in the press, and one that lost that needs
 * attention and says why.
 */
const SEED = 20_261_123;
const HISTORIES = 12;
const STEPS = 40;

const database = await testDatabase();
// Idle for longer than all of it takes: the clock goes on by a minute a step, so that nobody asks too often.
const settings = { sessionIdleMinutes: 48 * 60 };
const house = await testHouse(database, { at: '2026-11-23T08:00:00Z', settings });
const { pressId, bolsterId, keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');
const kofi = await signedInMember(house, 'steward');
const maren = await signedInMember(house, 'admin');
const ground = groundChanges(house, maren.headers);
const [equipment] = await database.query<{ id: string }>('select id from equipment where press_id = $1', [
  pressId,
]);
const [firstRules] = (await api.get('/api/v1/shop-rules').set(maren.headers).expect(200)).body.items;

type Person = Awaited<ReturnType<typeof signedInMember>>;

/** Two owners with a plate each; the first's plate may be shared with the second. */
interface World {
  readonly people: { headers: Person['headers']; readonly member: Person['member'] }[];
  readonly plates: readonly string[];
  slots: number;
  outage: string | null;
}

const pick = fc.nat({ max: 1 });
const steps = ['fit', 'trial', 'production'] as const;
const action = fc.oneof(
  {
    weight: 20,
    arbitrary: fc.record({
      do: fc.constant('book' as const),
      who: pick,
      others: fc.constantFrom(false, false, true),
      trial: fc.boolean(),
    }),
  },
  { weight: 10, arbitrary: fc.record({ do: fc.constant('clear' as const), plate: pick }) },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('refuse' as const),
      plate: pick,
      step: fc.constantFrom(...steps),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('rework' as const), plate: pick }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('revise' as const), plate: pick }) },
  {
    weight: 1,
    arbitrary: fc.record({ do: fc.constant('share' as const), run: fc.constantFrom(true, true, false) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('retire' as const),
      plate: pick,
      retired: fc.constantFrom(true, false, false),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('mount' as const),
      keyed: fc.constantFrom(true, false, false, false),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('bolster' as const),
      daylightMm: fc.integer({ min: 8, max: 12 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ do: fc.constant('press' as const), maxKn: fc.constantFrom(60, 500, 520, 540) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('rules' as const),
      factor: fc.constantFrom(1.2, 1.3),
      shut: fc.constantFrom(true, false, false),
    }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('revoke' as const), who: pick }) },
  { weight: 8, arbitrary: fc.record({ do: fc.constant('sign' as const), who: pick }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('suspend' as const), who: pick }) },
  { weight: 5, arbitrary: fc.record({ do: fc.constant('return' as const), who: pick }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('outage' as const) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('cancel' as const), which: fc.nat() }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('move' as const), which: fc.nat() }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('chore' as const) }) },
);
type Action = typeof action extends fc.Arbitrary<infer One> ? One : never;

async function begin(): Promise<World> {
  const people = [await signedInMember(house), await signedInMember(house)];
  const plates: string[] = [];
  for (const { headers } of people) {
    const body = { name: 'Tile spacer', ...plateBody() };
    plates.push((await api.post('/api/v1/plates').set(headers).send(body).expect(201)).body.id);
  }
  for (const plateId of plates) await clearNext(plateId);
  return { people, plates, slots: 0, outage: null };
}

/** An hour of a weekday that this world has not used. */
function slotOf(world: World) {
  world.slots += 1;
  const day = 24 + Math.floor(world.slots / 11);
  const startsAt = new Date(Date.UTC(2026, 10, day, 9 + (world.slots % 11)));
  return { startsAt: startsAt.toISOString(), endsAt: new Date(startsAt.getTime() + 3_600_000).toISOString() };
}

async function bookingsOf({ people }: World) {
  return await database.query<{ id: string; memberId: string }>(
    `select id, member_id as "memberId" from booking where member_id = any($1::uuid[]) and status <> 'cancelled'
     order by starts_at`,
    [people.map(({ member }) => member.id)],
  );
}

async function latestOf(plateId: string): Promise<number> {
  const [row] = await database.query<{ latest: number }>(
    'select latest_revision as latest from plate where id = $1',
    [plateId],
  );
  return row?.latest ?? 1;
}

/** The next step of a plate, whichever it is, with every caution accepted. */
async function clearNext(plateId: string) {
  const address = `/api/v1/plates/${plateId}/revisions/${await latestOf(plateId)}`;
  const clear = (body: object) =>
    api
      .post(`${address}/clearance`)
      .set(odile.headers)
      .send({ decision: 'clear', note: 'For the test.', ...body });
  const report = await api.get(`${address}/check?polymer=PP`).set(odile.headers);
  const acceptedCautions = (report.body.findings ?? [])
    .filter(({ verdict }: { verdict: string }) => verdict === 'caution' || verdict === 'unknown')
    .map(({ check }: { check: string }) => ({ check, polymer: 'PP' }));
  const replies = [
    await clear({ step: 'fit', measuredThicknessMm: [16, 16, 16, 16] }),
    await clear({ step: 'trial' }),
    await clear({ step: 'production', polymers: ['PP'], acceptedCautions }),
  ];
  return replies.find(({ status }) => status >= 500) ?? replies[0];
}

async function act(world: World, one: Action) {
  const { people, plates } = world;
  const who = people['who' in one ? one.who : 0] as World['people'][number];
  const plateId = plates['plate' in one ? one.plate : 0] ?? '';
  const member = `/api/v1/members/${who.member.id}`;
  switch (one.do) {
    case 'book': {
      const bookingKind = one.trial ? 'trial' : 'production';
      const asked = plates[one.others ? 1 - one.who : one.who] ?? '';
      const wanted = { plateId: asked, revision: await latestOf(asked), polymer: 'PP', bookingKind };
      return api
        .post('/api/v1/bookings')
        .set(who.headers)
        .send({ ...wanted, ...slotOf(world) });
    }
    case 'clear':
      return clearNext(plateId);
    case 'refuse':
      return api
        .post(`/api/v1/plates/${plateId}/revisions/${await latestOf(plateId)}/clearance`)
        .set(kofi.headers)
        .send({ step: one.step, decision: 'refuse', note: 'For the test.' });
    case 'rework':
      return api
        .post(`/api/v1/plates/${plateId}/revisions/${await latestOf(plateId)}/rework`)
        .set(odile.headers)
        .send({ reason: 'For the test.' });
    case 'revise':
      return api
        .post(`/api/v1/plates/${plateId}/revisions`)
        .set(people[one.plate]?.headers ?? {})
        .send(plateBody());
    case 'share':
      return api
        .patch(`/api/v1/plates/${plates[0]}`)
        .set(people[0]?.headers ?? {})
        .send({ sharing: one.run ? 'run' : 'nobody' });
    case 'retire':
      return api.patch(`/api/v1/plates/${plateId}`).set(odile.headers).send({ retired: one.retired });
    case 'mount':
      return ground.mount(one.keyed ? keyedBolsterId : bolsterId);
    case 'bolster':
      return ground.editBolster(bolsterId, one.daylightMm);
    case 'press':
      return ground.editPress(one.maxKn);
    case 'rules': {
      const { openingHours } = firstRules.rules;
      const hours = one.shut ? { ...openingHours, wednesday: [] } : openingHours;
      return api
        .post('/api/v1/shop-rules')
        .set(maren.headers)
        .send({ changes: { clampSafetyFactor: one.factor, openingHours: hours } });
    }
    case 'revoke': {
      const { body } = await api.get(`/api/v1/signoffs?memberId=${who.member.id}`).set(kofi.headers);
      let reply: supertest.Response | undefined;
      for (const { id } of body.items ?? []) {
        reply = await api
          .delete(`/api/v1/signoffs/${id}`)
          .set(kofi.headers)
          .send({ reason: 'For the test.' });
        if (reply.status === 200) break;
      }
      return reply;
    }
    case 'sign': {
      for (const competence of ['press-operation', 'plate-change']) {
        await api
          .post('/api/v1/signoffs')
          .set(odile.headers)
          .send({ memberId: who.member.id, competence, note: 'Seen done.' });
      }
      return undefined;
    }
    case 'suspend':
      return api.post(`${member}/suspension`).set(odile.headers).send({ reason: 'For the test.' });
    case 'return': {
      const reply = await api
        .delete(`${member}/suspension`)
        .set(odile.headers)
        .send({ reason: 'For the test.' });
      if (reply.status === 200) who.headers = await bearerOf(house, who.member);
      return reply;
    }
    case 'outage': {
      if (world.outage !== null) {
        const ended = await api.delete(`/api/v1/outages/${world.outage}`).set(odile.headers);
        world.outage = null;
        return ended;
      }
      const span = { startsAt: '2026-11-24T12:00:00Z', endsAt: '2026-11-25T12:00:00Z' };
      const made = await api
        .post('/api/v1/outages')
        .set(odile.headers)
        .send({ equipmentId: equipment?.id, ...span, reason: 'For the test.' });
      world.outage = made.body.id ?? null;
      return made;
    }
    case 'cancel':
    case 'move': {
      const bookings = await bookingsOf(world);
      const booking = bookings[one.which % Math.max(1, bookings.length)];
      const owner = people.find(({ member: { id } }) => id === booking?.memberId);
      if (booking === undefined || owner === undefined) return undefined;
      const address = `/api/v1/bookings/${booking.id}`;
      return one.do === 'move'
        ? api.patch(address).set(owner.headers).send(slotOf(world))
        : api.delete(address).set(owner.headers).send({});
    }
    case 'chore':
      await transact(database, (tx) => lookAtAll(tx, house.clock.now()));
      return undefined;
  }
}

/** What a coming booking rests on, asked here of the tables and not of the rooms that keep them. */
const STANDING = `
  select b.id, b.status, b.booking_kind as kind,
    exists (
      select from clearance c join plate p on p.id = c.plate_id join bolster o on o.id = c.bolster_id
      where c.plate_id = b.plate_id and c.revision = b.revision and p.latest_revision = b.revision
        and p.retired_at is null and o.mounted
        and c.bolster_version = (select max(v.version) from bolster_version v where v.bolster_id = o.id)
        and c.decision = 'clear'
        and (b.booking_kind = 'trial' or c.step = 'production' and exists (
          select from clearance_report r where r.clearance_id = c.id and r.polymer = b.polymer))
        and not exists (
          select from clearance l where l.plate_id = c.plate_id and l.revision = c.revision
            and l.bolster_id = c.bolster_id and l.bolster_version = c.bolster_version and l.place > c.place
            and l.decision <> 'clear' and (l.step = c.step or l.step = 'fit'
              or l.step = 'trial' and c.step = 'production'))) as cleared,
    (select count(*) from sign_off s where s.member_id = b.member_id and s.valid_until >= b.ends_at
      and s.competence in ('press-operation', 'plate-change')
      and not exists (select from sign_off_end e where e.sign_off_id = s.id)) >= 2 as "signedOff",
    (select m.state = 'active' from member m where m.id = b.member_id) as active,
    (select p.owner_id = b.member_id or p.sharing = 'run' from plate p where p.id = b.plate_id) as "mayRun",
    not exists (select from outage u where u.ended_at is null and u.starts_at < b.ends_at
      and u.ends_at > b.starts_at) as "inService",
    array(select l.code from booking_lost l where l.booking_id = b.id and l.regained_at is null order by 1) as lost
  from booking b where b.status <> 'cancelled' and b.ends_at > $1 and b.member_id = any($2::uuid[])`;

interface Standing {
  readonly id: string;
  readonly status: string;
  readonly cleared: boolean;
  readonly signedOff: boolean;
  readonly active: boolean;
  readonly mayRun: boolean;
  readonly inService: boolean;
  readonly lost: readonly string[];
}

const count = { booked: 0, lost: 0, healed: 0 };

async function hold(world: World, told: string): Promise<void> {
  const rows = await database.query<Standing>(STANDING, [
    house.clock.now(),
    world.people.map(({ member }) => member.id),
  ]);
  for (const { status, lost, ...rests } of rows) {
    const fit = rests.cleared && rests.signedOff && rests.active && rests.mayRun && rests.inService;
    if (status === 'booked') {
      expect({ fit, lost }, told).toEqual({ fit: true, lost: [] });
      count.booked += 1;
    } else {
      expect({ status, lost: lost.length > 0 }, told).toEqual({ status: 'needs-attention', lost: true });
      // What is said to be missing is missing; of checks and hours this test knows nothing.
      const unknown = lost.some((code) => /^(report|booking)-|^bolster/.test(code));
      if (!unknown) expect(fit, `${told}: ${lost}`).toBe(false);
      count.lost += 1;
    }
  }
}

it(`holds after every step of ${HISTORIES} random histories (seed ${SEED})`, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(action, { minLength: STEPS, maxLength: STEPS }), async (history) => {
      const world = await begin();
      for (const [step, one] of history.entries()) {
        house.clock.turn(1);
        const reply = await act(world, one);
        const told = `step ${step}: ${JSON.stringify(one)} answered ${reply?.status ?? 'nothing'}`;
        expect(reply?.status ?? 200, `${told} ${reply?.text ?? ''}`).toBeLessThan(500);
        expect(reply?.status).not.toBe(429);
        await hold(world, told);
      }
      await setRight(world);
      await hold(world, 'set right');
      await clearAway(world);
    }),
    { seed: SEED, numRuns: HISTORIES, endOnFailure: true },
  );
  const [healed] = await database.query<{ count: number }>(
    `select count(*)::int as count from audit_entry where action = 'booking-fit-again'`,
  );
  count.healed = healed?.count ?? 0;
  // Enough has happened for this to mean something.
  expect(Math.min(count.booked / 10, count.lost / 10, count.healed), JSON.stringify(count)).toBeGreaterThan(
    5,
  );
}, 600_000);

/** Whatever was taken is given back: each booking of a latest revision is booked again, by itself. */
async function setRight(world: World): Promise<void> {
  house.clock.turn(1);
  if (world.outage !== null) await act(world, { do: 'outage' });
  await act(world, { do: 'mount', keyed: false });
  await act(world, { do: 'press', maxKn: 500 });
  await act(world, { do: 'rules', factor: 1.2, shut: false });
  for (const who of [0, 1]) {
    await act(world, { do: 'return', who });
    await act(world, { do: 'sign', who });
    await act(world, { do: 'retire', plate: who, retired: false });
    await act(world, { do: 'clear', plate: who });
  }
  await act(world, { do: 'share', run: true });
  const still = await database.query(
    `select l.code from booking b join booking_lost l on l.booking_id = b.id and l.regained_at is null
     join plate p on p.id = b.plate_id
     where b.status = 'needs-attention' and b.member_id = any($1::uuid[]) and b.revision = p.latest_revision`,
    [world.people.map(({ member }) => member.id)],
  );
  expect(still, 'what is still missing after all was set right').toEqual([]);
}

/** The press is free for the next history. */
async function clearAway(world: World): Promise<void> {
  for (const { id } of await bookingsOf(world)) {
    await api.delete(`/api/v1/bookings/${id}`).set(odile.headers).send({ reason: 'The history is over.' });
  }
}
