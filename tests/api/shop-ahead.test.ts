import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { dayOf, openSpansOf } from '../../server/shop/opening-hours.js';
import { fieldsOfRules } from '../../server/shop/rules-form.js';
import { rulesAt } from '../../server/shop/store.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const DAY_MS = 86_400_000;

const database = await testDatabase();
const house = await testHouse(database);
await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const maren = await signedInMember(house, 'admin');

const latest = async () => {
  const [row] = await database.query<{ rules: Record<string, unknown>; validFrom: Date }>(
    'select rules, valid_from as "validFrom" from shop_rule order by version desc limit 1',
  );
  return row;
};

describe('a quota that is lowered', () => {
  it('lists who holds more than it gives, on the wire and on the sheet, and takes nothing from them', async () => {
    const wren = await signedInMember(house);
    const { body: plate } = await api
      .post('/api/v1/plates')
      .set(wren.headers)
      .send({ name: 'Tile spacer', ...plateBody('tile-spacer-4up') })
      .expect(201);
    await clearPlate(house, { plateId: plate.id });
    const startsAt = await firstHourOpen();
    for (const hours of [0, 1]) {
      await api
        .post('/api/v1/bookings')
        .set(wren.headers)
        .send({
          plateId: plate.id,
          revision: 1,
          polymer: 'PP',
          startsAt: new Date(startsAt.getTime() + hours * 3_600_000),
          endsAt: new Date(startsAt.getTime() + (hours + 1) * 3_600_000),
        })
        .expect(201);
    }
    const above = async (quotaHoursAhead: number) =>
      (
        await api
          .post('/api/v1/shop-rules/preview')
          .set(maren.headers)
          .send({ changes: { quotaHoursAhead } })
          .expect(200)
      ).body.aboveQuota;
    expect(await above(2)).toEqual([]);
    expect(await above(1)).toEqual([
      {
        memberId: wren.member.id,
        displayName: wren.member.displayName,
        month: null,
        hours: 2,
        limitHours: 1,
      },
    ]);
    const visitor = visitorOf(house);
    await visitor.signIn(maren.member);
    const form = await changeForm(visitor);
    const seen = await visitor.submit('/shop-rules/change', '/shop-rules/preview', {
      ...form,
      quotaHoursAhead: '1',
    });
    expect(seen.text).toContain('Above the new quota');
    expect(seen.text).toContain('holds 2 h still to come, of 1 h');
  });
});

/** The first hour from tomorrow on with two open ones, by the rules of the house. */
async function firstHourOpen(): Promise<Date> {
  const rules = await rulesAt(database, house.clock.now());
  const today = dayOf(house.clock.now(), rules.timeZone);
  for (let days = 1; days < 8; days++) {
    const [span] = openSpansOf(today.add({ days }), rules);
    if (span !== undefined) return span.startsAt;
  }
  throw new Error('The house is never open.');
}

/** The form to change the rules, as it is offered. */
async function changeForm(visitor: ReturnType<typeof visitorOf>): Promise<Record<string, string>> {
  await visitor.get('/shop-rules/change').expect(200);
  return { ...fieldsOfRules(await rulesAt(database, house.clock.now())) };
}

describe('a change before a version that was set already', () => {
  it('is looked at in that version too, and kept there when that is wanted', async () => {
    const later = new Date(Math.ceil(house.clock.now().getTime() / DAY_MS + 10) * DAY_MS);
    await api
      .post('/api/v1/shop-rules')
      .set(maren.headers)
      .send({ changes: { handClearanceMm: 77 }, validFrom: later.toISOString() })
      .expect(201);
    const visitor = visitorOf(house);
    await visitor.signIn(maren.member);
    const form = { ...(await changeForm(visitor)), bookableDaysAhead: '33' };
    const seen = await visitor.submit('/shop-rules/change', '/shop-rules/preview', form);
    expect(seen.status).toBe(200);
    expect(seen.text).toContain('name="carry"');
    const kept = await visitor.submit('/shop-rules/change', '/shop-rules', { ...form, carry: 'on' });
    expect(kept.status).toBe(200);
    expect(kept.text).toContain('This is the same change in that version');
    expect((await latest())?.rules.handClearanceMm).not.toBe(77);
    const fields = Object.fromEntries(
      [...kept.text.matchAll(/<input type="hidden" name="(\w+)" value="([^"]*)">/g)].map((found) => [
        found[1] ?? '',
        found[2] ?? '',
      ]),
    );
    expect(fields).toMatchObject({ handClearanceMm: '77', bookableDaysAhead: '33' });
    const carried = await visitor.submit('/shop-rules/change', '/shop-rules', fields);
    expect([carried.status, carried.headers.location]).toEqual([303, '/shop-rules']);
    const last = await latest();
    expect(last?.validFrom).toEqual(later);
    expect(last?.rules).toMatchObject({ handClearanceMm: 77, bookableDaysAhead: 33 });
  });
});
