import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { transact } from '../../server/database/transaction.js';
import { NOTICE_KINDS } from '../../server/notices/kinds.js';
import { type NewNotice, notify } from '../../server/notices/notify.js';
import { wordNoticeTo } from '../../server/words/en/notices.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const NOBODY = '00000000-0000-4000-8000-000000000000';

const told = (memberIds: readonly string[], more: Partial<NewNotice> = {}) =>
  transact(database, (tx) =>
    notify(tx, {
      memberIds,
      kind: 'role-changed',
      figures: { role: 'a steward' },
      href: '/account',
      at: house.clock.now(),
      ...more,
    }),
  );

/** How many notices the head of a page counts; 0 where it shows none. */
const countIn = (html: string) => Number(/Notices <span class="ps-balloon">(\d+)/.exec(html)?.[1] ?? 0);

describe('a notice', () => {
  it('is on the page, and counted in the head, of whom it is for, until read', async () => {
    const member = await makeMember(house);
    const visitor = visitorOf(house);
    await visitor.signIn(member);
    expect(countIn((await visitor.get('/').expect(200)).text)).toBe(0);
    await told([member.id]);
    await told([member.id], {
      kind: 'sign-off-revoked',
      figures: { competence: 'Plate change', reason: 'Forgot the guard' },
    });
    const { text } = await visitor.get('/notices').expect(200);
    expect(countIn(text)).toBe(2);
    expect(text).toContain('You are a steward now');
    expect(text).toContain('Forgot the guard');
    expect(text).toContain('Mark all as read');
    const noticeId = /action="\/notices\/([0-9a-f-]{36})\/read"/.exec(text)?.[1];
    const read = await visitor.submit('/notices', `/notices/${noticeId}/read`);
    expect([read.status, read.headers.location]).toEqual([303, '/notices']);
    expect(countIn((await visitor.get('/notices').expect(200)).text)).toBe(1);
  });

  it('leads to where something can be done about it, and is read with that', async () => {
    const member = await makeMember(house);
    const visitor = visitorOf(house);
    await visitor.signIn(member);
    await told([member.id]);
    const { text } = await visitor.get('/notices');
    const action = /action="(\/notices\/[0-9a-f-]{36}\/read)"/.exec(text)?.[1] ?? '';
    const reply = await visitor.submit('/notices', action, { go: 'yes' });
    expect([reply.status, reply.headers.location]).toEqual([303, '/account']);
    expect(countIn((await visitor.get('/').expect(200)).text)).toBe(0);
  });

  it('that comes while one reads stays unread when all that was seen is marked', async () => {
    const { member, headers } = await signedInMember(house);
    await told([member.id]);
    const seen = await api.get('/api/v1/notices?unread=true').set(headers).expect(200);
    house.clock.turn(1);
    await told([member.id]);
    const through = seen.body.items[0].createdAt;
    const reply = await api.post('/api/v1/notices/read').set(headers).send({ through }).expect(200);
    expect(reply.body).toEqual({ read: 1 });
    const left = await api.get('/api/v1/notices?unread=true').set(headers).expect(200);
    expect(left.body.items).toHaveLength(1);
  });

  it('of somebody else is not there, by page or API', async () => {
    const { member } = await signedInMember(house);
    await told([member.id]);
    const [row] = await database.query<{ id: string }>('select id from notice where member_id = $1', [
      member.id,
    ]);
    const other = await signedInMember(house, 'admin');
    for (const id of [row?.id, NOBODY, 'no-id']) {
      const reply = await api.post(`/api/v1/notices/${id}/read`).set(other.headers).expect(404);
      expect(codesOf(reply)).toEqual(['not-found']);
    }
    const visitor = visitorOf(house);
    await visitor.signIn(other.member);
    await told([other.member.id]);
    expect((await visitor.submit('/notices', `/notices/${row?.id}/read`)).status).toBe(404);
    const mine = await api.get('/api/v1/notices').set(other.headers).expect(200);
    expect(mine.body.items).toHaveLength(1);
  });

  it('is listed page by page, none lost and none twice', async () => {
    const { member, headers } = await signedInMember(house);
    for (let i = 0; i < 7; i += 1) await told([member.id], { figures: { role: `number ${i}` } });
    const ids: string[] = [];
    let next: string | null = '';
    while (next !== null) {
      const cursor: string = next === '' ? '' : `&cursor=${next}`;
      const { body } = await api.get(`/api/v1/notices?limit=3${cursor}`).set(headers).expect(200);
      ids.push(...body.items.map(({ id }: { id: string }) => id));
      next = body.next;
    }
    expect(new Set(ids).size).toBe(7);
    expect(ids).toHaveLength(7);
  });

  it('goes once to each who is told, and not to who has left', async () => {
    const [here, gone] = await Promise.all([makeMember(house), makeMember(house)]);
    await database.query(
      "update member set state = 'left', left_at = now(), email = null, password_hash = null where id = $1",
      [gone.id],
    );
    await told([here.id, here.id, gone.id]);
    const rows = await database.query<{ member_id: string }>(
      'select member_id from notice where member_id = any($1::uuid[])',
      [[here.id, gone.id]],
    );
    expect(rows).toEqual([{ member_id: here.id }]);
  });

  it('names whom it is about as they are called now', async () => {
    const [steward, about] = await Promise.all([makeMember(house, 'steward'), makeMember(house)]);
    await told([steward.id], {
      kind: 'witness-wanted',
      aboutId: about.id,
      figures: { competence: 'Drying oven' },
    });
    await database.query("update member set display_name = 'Tamsin' where id = $1", [about.id]);
    const visitor = visitorOf(house);
    await visitor.signIn(steward);
    expect((await visitor.get('/notices').expect(200)).text).toContain(
      'Tamsin asks for a witness: Drying oven',
    );
  });

  it('falls with the transaction of what it tells about', async () => {
    const member = await makeMember(house);
    const failing = transact(database, async (tx) => {
      await notify(tx, {
        memberIds: [member.id],
        kind: 'role-changed',
        href: '/account',
        at: house.clock.now(),
      });
      throw new Error('on purpose');
    });
    await expect(failing).rejects.toThrow('on purpose');
    expect(await database.query('select from notice where member_id = $1', [member.id])).toEqual([]);
  });
});

describe('whoever writes, the database', () => {
  const refusedBy = async (sql: string, id: string) =>
    pgFaultOf(await database.query(sql, [id]).catch((error: unknown) => error))?.constraint;

  it('keeps a notice as it is until it has been read', async () => {
    const member = await makeMember(house);
    await told([member.id]);
    const [row] = await database.query<{ id: string }>('select id from notice where member_id = $1', [
      member.id,
    ]);
    const id = row?.id ?? '';
    expect(await refusedBy('delete from notice where id = $1', id)).toBe('notice_kept');
    expect(await refusedBy(`update notice set figures = '{}' where id = $1`, id)).toBe('notice_kept');
    await database.query('update notice set read_at = created_at where id = $1', [id]);
    expect(await refusedBy('update notice set read_at = null where id = $1', id)).toBe('notice_kept');
    await database.query('delete from notice where id = $1', [id]);
  });

  it('leads nowhere but into the house', async () => {
    const member = await makeMember(house);
    for (const href of [
      'https://elsewhere.example',
      '//elsewhere.example',
      '/\\elsewhere.example',
      'account',
    ]) {
      await expect(told([member.id], { href })).rejects.toThrow('notice_href_own');
    }
  });
});

describe.each(NOTICE_KINDS)('the words of %s', (kind) => {
  it.each([
    [{}],
    [
      {
        competence: 'Plate change',
        until: '2026-12-01T10:00:00Z',
        startsAt: '2026-12-01T10:00:00Z',
        endsAt: '2026-12-01T12:00:00Z',
        role: 'an admin',
        reason: 'a reason',
      },
    ],
  ])('are whole with figures and without', (figures) => {
    for (const about of [null, 'Wren']) {
      const { strong, text, link } = wordNoticeTo(kind, { figures, about, timeZone: 'Europe/London' });
      for (const words of [strong, text, link]) {
        expect(words).not.toMatch(/undefined|null|NaN|Invalid/);
        expect(words.trim()).not.toBe('');
      }
    }
  });
});
