import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { visitorOf } from '../support/requests.js';
import { bearerOf, makeMember } from '../support/sign-in.js';

/** A Monday in November, 08:00 in Dublin. */
const NOW = '2026-11-23T08:00:00Z';

const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
await furnishPress(database, LONG_AGO);
const member = await makeMember(house);
const wren = visitorOf(house);
await wren.signIn(member);
const other = await makeMember(house);
const tamsin = visitorOf(house);
await tamsin.signIn(other);
const plate = await supertest(house.url)
  .post('/api/v1/plates')
  .set(await bearerOf(house, member))
  .send({ name: 'Tile spacer', ...plateBody() })
  .expect(201);
const plateId: string = plate.body.id;
await clearPlate(house, { plateId });

const form = (more: Record<string, string> = {}) => ({
  plateId,
  polymer: 'PP',
  date: '2026-11-24',
  from: '10:00',
  to: '12:00',
  shots: '',
  ...more,
});

const book = (more: Record<string, string> = {}) => wren.submit('/bookings/new', '/bookings/new', form(more));

describe('the booking form', () => {
  it('books and leads to the booking, which stands in the list and in the week', async () => {
    const reply = await book({ shots: '90' });
    expect(reply.status).toBe(303);
    const address = reply.headers.location ?? '';
    expect(address).toMatch(/^\/bookings\/[0-9a-f-]{36}$/);
    const page = await wren.get(address).expect(200);
    expect(page.text).toContain('Tue 24 Nov, 10:00 to 12:00');
    expect(page.text).toContain('not asked for yet');
    const list = await wren.get('/bookings').expect(200);
    expect(list.text).toContain('Tue 24 Nov, 10:00 to 12:00');
    const week = await wren.get('/week').expect(200);
    expect(week.text).toContain('You: Tile spacer');
  });

  it('shows to others the name and the resin, not the plate', async () => {
    const week = await tamsin.get('/week').expect(200);
    expect(week.text).toContain(member.displayName);
    expect(week.text).not.toContain('Tile spacer');
  });

  it('tells every reason with its cure and keeps what was typed', async () => {
    const reply = await book({ from: '08:00', to: '19:00', shots: '33' });
    expect(reply.status).toBe(422);
    expect(reply.text).toContain('Three things to put right');
    expect(reply.text).toContain('<a href="#from">');
    expect(reply.text).toContain('href="#to"');
    expect(reply.text).toMatch(/name="from"[^>]*value="08:00"/);
    expect(reply.text).toContain('value="33"');
  });

  it('names the check that stops in words, and leads to its report', async () => {
    const stopped = await supertest(house.url)
      .post('/api/v1/plates')
      .set(await bearerOf(house, member))
      .send({ name: 'Off', ...plateBody('bolt-off-grid') })
      .expect(201);
    const reply = await book({ plateId: stopped.body.id });
    expect(reply.text).toContain('stop (Bolt pattern)');
    expect(reply.text).not.toContain('bolt-pattern)');
    expect(reply.text.replaceAll('&#x3D;', '=')).toContain(`href="/plates/${stopped.body.id}?polymer=PP"`);
  });

  it('names the field of which something is wrong', async () => {
    const reply = await book({ to: 'late' });
    expect(reply.text).toContain('<a href="#to">To: give a time of day, for instance 14:00.</a>');
  });

  it('is answered with the state’s own status where only others are in the way', async () => {
    const reply = await book({ from: '11:00', to: '13:00' });
    expect(reply.status).toBe(409);
    expect(reply.text).toContain('One thing to put right');
  });

  it.each([
    ['date', { date: '24.11.2026' }],
    ['date', { date: '2026-02-30' }],
    ['from', { from: '25:00' }],
    ['to', { to: '' }],
    ['plateId', { plateId: 'tile' }],
    ['polymer', { polymer: '' }],
    ['polymer', { polymer: 'butter' }],
    ['shots', { shots: 'many' }],
  ])('says at %s what is wrong with %j', async (field, more) => {
    const reply = await book(more);
    expect(reply.status).toBe(422);
    expect(reply.text).toContain(`href="#${field}"`);
    expect(reply.text).toContain(`id="${field}-error"`);
  });

  it('refuses the hour that the clocks leave out, by name', async () => {
    const reply = await book({ date: '2027-03-28', from: '01:30', to: '02:30' });
    expect(reply.status).toBe(422);
    expect(reply.text).toContain('The clocks go forward that night');
  });

  it('says that it is you who has the press already, and leads there', async () => {
    const made = await book({ date: '2026-12-21' });
    const again = await book({ date: '2026-12-21' });
    expect(again.status).toBe(409);
    expect(again.text).toContain('already booked by you');
    expect(again.text).toContain(`<a href="${made.headers.location}">See the booking</a>`);
  });

  it('says that a booking lies within one day, and of what is over only that', async () => {
    const night = await book({ from: '20:00', to: '01:00' });
    expect(night.text).toContain('To: end after the start, on the same day');
    const past = await book({ date: '2026-11-20' });
    expect(past.text).toContain('would start in the past');
    expect(past.text).not.toContain('already booked');
  });

  it('leads who was signed out meanwhile to sign in and back to the form', async () => {
    const reply = await supertest(house.url)
      .post('/bookings/new')
      .type('form')
      .set({
        origin: house.url,
        'sec-fetch-site': 'same-origin',
        referer: `${house.url}/bookings/new?date=2026-12-01`,
      })
      .send(form());
    expect(reply.status).toBe(401);
    expect(reply.text.replaceAll('&#x3D;', '=')).toContain(
      '/sign-in?next=%2Fbookings%2Fnew%3Fdate%3D2026-12-01',
    );
  });

  it('is not taken from elsewhere', async () => {
    const reply = await wren.post('/bookings/new', form());
    expect(reply.status).toBe(403);
  });
});

describe('a booking’s sheet', () => {
  it('moves it, says why not, and asks once more before it cancels', async () => {
    const made = await book({ date: '2026-11-25' });
    const address = (made.headers.location ?? '').split('?')[0] ?? '';
    const seen = async () => {
      const { text } = await wren.get(address).expect(200);
      const at = (name: string) => new RegExp(`name="${name}" value="([^"]+)"`).exec(text)?.[1] ?? '';
      return { seenStartsAt: at('seenStartsAt'), seenEndsAt: at('seenEndsAt') };
    };
    const first = await seen();
    const to = (more: object) => ({ date: '2026-11-25', from: '14:00', to: '15:00', ...more });
    const moved = await wren.submit(address, `${address}/move`, to(first));
    expect(moved.headers.location).toBe(address);
    const refused = await wren.submit(address, `${address}/move`, to({ ...(await seen()), to: '13:00' }));
    const unmoved = await wren.submit(address, `${address}/move`, to(await seen()));
    expect(unmoved.status).toBe(422);
    expect(unmoved.text).toContain('This is the time it has already');
    const stale = await wren.submit(address, `${address}/move`, to({ ...first, to: '16:00' }));
    expect(stale.status).toBe(409);
    expect(stale.text).toContain('Somebody changed this');
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('To: end after the start, on the same day');
    await wren.get(`${address}/cancel`).expect(200);
    const cancelled = await wren.submit(`${address}/cancel`, `${address}/cancel`, { reason: '' });
    expect(cancelled.headers.location).toBe(address);
    const again = await wren.submit('/bookings/new', `${address}/cancel`, { reason: '' });
    expect(again.status).toBe(409);
  });

  it('tells once what was done, on the page it is about, to who did it', async () => {
    const made = await book({ date: '2026-11-27' });
    const address = made.headers.location ?? '';
    const told = 'The press is yours for that time';
    expect((await tamsin.get(address)).text).not.toContain(told);
    expect((await wren.get('/week')).text).not.toContain(told);
    expect((await wren.get(address)).text).toContain(told);
    expect((await wren.get(address)).text).not.toContain(told);
    for (const said of ['booked', 'moved', 'cancelled']) {
      const page = await wren.get(`${address}?just=${said}`).expect(200);
      expect(page.text).not.toContain('role="status"');
    }
  });

  it('shows others no plate, no form, and no way to cancel', async () => {
    const made = await book({ date: '2026-11-26' });
    const address = (made.headers.location ?? '').split('?')[0] ?? '';
    const page = await tamsin.get(address).expect(200);
    expect(page.text).not.toContain('Tile spacer');
    expect(page.text).not.toContain('<form method="post" action="/bookings');
    expect((await tamsin.get(`${address}/cancel`)).status).toBe(403);
    expect((await tamsin.submit('/account', `${address}/cancel`)).status).toBe(403);
  });

  it.each(['/bookings/none', '/bookings/00000000-0000-4000-8000-000000000000'])(
    'is not found: %s',
    async (address) => {
      await wren.get(address).expect(404);
    },
  );
});

describe('what a steward sees', async () => {
  const odile = visitorOf(house);
  await odile.signIn(await makeMember(house, 'steward'));

  it('is everybody’s bookings, from the week and in a list; a member is told that it is not theirs', async () => {
    const made = await book({ date: '2026-12-14' });
    const address = made.headers.location ?? '';
    const week = await odile.get('/week?from=2026-12-14').expect(200);
    expect(week.text).toContain(`href="${address}"`);
    expect((await tamsin.get('/week?from=2026-12-14')).text).not.toContain(address);
    const list = await odile.get('/bookings/all').expect(200);
    expect(list.text).toContain(`href="${address}"`);
    expect(list.text).toContain(`${member.displayName}: Tile spacer`);
    expect((await odile.get('/bookings')).text).toContain('href="/bookings/all"');
    expect((await odile.get(address)).text).toContain(`href="/plates/${plateId}"`);
    await tamsin.get('/bookings/all').expect(403);
    expect((await tamsin.get('/bookings')).text).not.toContain('/bookings/all');
  });
});

describe('the press week', () => {
  it('has a lane for what there is, a word for what is narrow, and a way to book each day to come', async () => {
    const day = { date: '2026-12-15', from: '10:00', to: '11:00' };
    await book(day);
    const before = await wren.get('/week?from=2026-12-15').expect(200);
    expect(before.text).not.toMatch(/granulator|oven/);
    expect(before.text).toMatch(/ps-on-key[^>]*>You</);
    expect(before.text.replaceAll('&#x3D;', '=')).toContain(
      'href="/bookings/new?date=2026-12-15">Book on Tue 15 Dec',
    );
    expect((await wren.get('/week?from=2026-11-16')).text).not.toContain('Book on Tue 17 Nov');
    await database.query("insert into equipment (kind, name) values ('granulator', 'Granulator')");
    expect((await wren.get('/week?from=2026-12-15')).text).toContain('granulator');
  });

  it('says of a booking that is over that it is past', async () => {
    const made = await book({ date: '2026-11-24', from: '14:00', to: '15:00' });
    house.clock.turn(3 * 24 * 60);
    const later = visitorOf(house);
    await later.signIn(member);
    const page = await later.get(made.headers.location ?? '');
    house.clock.turn(-3 * 24 * 60);
    expect(page.text).toMatch(/<dt>Status<\/dt><dd>(<b>)?past/);
  });

  it('sends who is not signed in to sign in, and back', async () => {
    const reply = await supertest(house.url).get('/week?from=2026-11-24');
    expect(reply.status).toBe(303);
    expect(reply.headers.location).toBe('/sign-in?next=%2Fweek%3Ffrom%3D2026-11-24');
  });

  it('begins where it is told, today where that is no day, and leads on by weeks', async () => {
    const asked = await wren.get('/week?from=2026-12-28').expect(200);
    expect(asked.text).toContain('Mon 28 Dec to Sun 3 Jan');
    expect(asked.text).toContain('/week?from&#x3D;2027-01-04');
    for (const wrong of ['soon', '2026-13-01', '2026-02-30', '0000-00-00', '9999-12-31']) {
      const reply = await wren.get(`/week?from=${wrong}`).expect(200);
      expect(reply.text).toContain('Mon 23 Nov to Sun 29 Nov');
    }
  });

  it('draws a closed day, a closure and equipment that is out of service, and tells them in the table', async () => {
    await database.query(
      `insert into reservation (equipment_id, starts_at, ends_at, purpose, note)
       select id, '2026-12-01T09:00Z', '2026-12-01T22:00Z', 'closure', 'stocktake' from equipment where kind = 'press'`,
    );
    const { text } = await wren.get('/week?from=2026-12-01&day=2026-12-02').expect(200);
    expect(text).toContain('closed: stocktake');
    expect(text).toMatch(
      /<a class="ps-days__link" href="[^"]*day(=|&#x3D;)2026-12-02#day" aria-current="true"/,
    );
  });

  it('shows a new booking at once, not when the minute is over', async () => {
    const before = await wren.get('/week?from=2026-12-03').expect(200);
    await book({ date: '2026-12-03' });
    const after = await wren.get('/week?from=2026-12-03').expect(200);
    expect(before.text).not.toContain('You: Tile spacer');
    expect(after.text).toContain('You: Tile spacer');
  });
});
