import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { AUDIT_ACTIONS, type AuditAction, FLOOR_ACTIONS } from '../../server/audit/actions.js';
import { recordAudit } from '../../server/audit/record-audit.js';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { transact } from '../../server/database/transaction.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { wordAction } from '../../server/words/en/audit.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);

const record = (actorId: string | null, action: AuditAction, subjectId: string, details = {}) =>
  transact(database, (tx) =>
    recordAudit(tx, { at: house.clock.now(), actorId, action, subjectKind: 'booking', subjectId, details }),
  );

interface Item {
  readonly actorId: string | null;
  readonly action: string;
  readonly subjectId: string;
  readonly sentence: string;
}

async function itemsFor(headers: { readonly authorization: string }, query = ''): Promise<readonly Item[]> {
  const { body } = await api.get(`/api/v1/trail?limit=100${query}`).set(headers).expect(200);
  return body.items;
}

describe('the trail', () => {
  it('shows a member their own entries, a steward the floor’s too, an admin all', async () => {
    const [wren, bram, steward, admin] = [
      await signedInMember(house),
      await signedInMember(house),
      await signedInMember(house, 'steward'),
      await signedInMember(house, 'admin'),
    ];
    await record(wren.member.id, 'booking-made', 'reach-1');
    await record(bram.member.id, 'booking-made', 'reach-2');
    const seen = async ({ headers }: typeof wren) =>
      (await itemsFor(headers)).map(({ actorId, action }) => `${actorId} ${action}`);
    const signIn = (who: typeof wren) => `${who.member.id} signed-in`;
    const booked = (who: typeof wren) => `${who.member.id} booking-made`;
    expect(await seen(wren)).toEqual([booked(wren), signIn(wren)]);
    expect(await seen(steward)).toEqual([booked(bram), booked(wren), signIn(steward)]);
    expect(await seen(admin)).toEqual(
      expect.arrayContaining([booked(bram), booked(wren), signIn(wren), signIn(bram), signIn(admin)]),
    );
  });

  it('is narrowed to a person and to a thing, never beyond what may be seen', async () => {
    const [wren, bram, steward] = [
      await signedInMember(house),
      await signedInMember(house),
      await signedInMember(house, 'steward'),
    ];
    await record(wren.member.id, 'booking-made', 'thing-1');
    await record(bram.member.id, 'booking-cancelled', 'thing-1');
    await record(bram.member.id, 'booking-made', 'thing-2');
    const about = '&subjectKind=booking&subjectId=thing-1';
    const actions = async (who: typeof wren, query: string) =>
      (await itemsFor(who.headers, query)).map(({ action }) => action);
    expect(await actions(steward, about)).toEqual(['booking-cancelled', 'booking-made']);
    expect(await actions(steward, `&actorId=${bram.member.id}`)).toEqual([
      'booking-made',
      'booking-cancelled',
    ]);
    expect(await actions(wren, about)).toEqual(['booking-made']);
    expect(await actions(wren, `&actorId=${bram.member.id}`)).toEqual([]);
  });

  it('comes page by page while more is added, none lost and none twice', async () => {
    const { member, headers } = await signedInMember(house);
    for (let i = 0; i < 9; i += 1) await record(member.id, 'booking-moved', `page-${i}`);
    const things: string[] = [];
    let next: string | null = '';
    while (next !== null) {
      const cursor: string = next === '' ? '' : `&cursor=${next}`;
      const { body } = await api
        .get(`/api/v1/trail?limit=4&actorId=${member.id}${cursor}`)
        .set(headers)
        .expect(200);
      things.push(...body.items.map(({ subjectId }: Item) => subjectId));
      next = body.next;
      await record(member.id, 'booking-moved', 'later');
    }
    const own = things.filter((thing) => thing.startsWith('page-'));
    expect(own).toEqual([8, 7, 6, 5, 4, 3, 2, 1, 0].map((i) => `page-${i}`));
  });

  it('refuses half a thing and cursors that are not its own', async () => {
    const { headers } = await signedInMember(house);
    await api.get('/api/v1/trail?subjectKind=booking').set(headers).expect(400);
    for (const cursor of ['MA', 'x', Buffer.from('9'.repeat(20)).toString('base64url')]) {
      const reply = await api.get(`/api/v1/trail?cursor=${cursor}`).set(headers).expect(400);
      expect(codesOf(reply)).toEqual(['cursor-invalid']);
    }
  });

  it('calls people by the names they have now, in whatever stands in the details', async () => {
    const [admin, member] = [await signedInMember(house, 'admin'), await makeMember(house)];
    await record(member.id, 'booking-made', 'names', { memberId: member.id });
    await record(null, 'booking-needs-attention', 'names', {
      memberId: 'not-an-id',
      reason: 'the sign-off ended',
    });
    await database.query("update member set display_name = 'Nuria' where id = $1", [member.id]);
    const visitor = visitorOf(house);
    await visitor.signIn(admin.member);
    const { text } = await visitor.get('/trail?kind=booking&thing=names').expect(200);
    expect(text).toMatch(/Nuria<\/a><\/th><td[^>]*>booked the press</);
    expect(text).toMatch(
      /The service itself<\/th><td[^>]*>marked a booking as needing attention: the sign-off ended</,
    );
    expect(text).toContain('The whole trail');
  });

  it('as a page takes nonsense for nothing', async () => {
    const visitor = visitorOf(house);
    await visitor.signIn(await makeMember(house));
    for (const query of [
      'after=%00',
      'person=nobody',
      'kind=%00&thing=x',
      'kind=booking',
      'after=1&after=2',
    ]) {
      await visitor.get(`/trail?${query}`).expect(200);
    }
  });
});

describe('plain SQL', () => {
  it.each(['update audit_entry set action = $1', 'delete from audit_entry where action <> $1'])(
    'cannot do this: %s',
    async (sql) => {
      const fault = pgFaultOf(await database.query(sql, ['nothing']).catch((error: unknown) => error));
      expect(fault).toEqual({ sqlState: 'PS001', constraint: 'audit_entry_append_only' });
    },
  );

  it('cannot empty the trail', async () => {
    await expect(database.query('truncate audit_entry')).rejects.toThrow('never changed or deleted');
  });
});

describe('the actions', () => {
  it('are all those that any file of the service writes', () => {
    const files = readdirSync(join(PROJECT_FOLDER, 'server'), { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts') && !file.includes('generated'))
      .map((file) => readFileSync(join(PROJECT_FOLDER, 'server', file), 'utf8'));
    const inSql = files.flatMap((source) =>
      [...source.matchAll(/insert into audit_entry[^`]*?select[^`]*?'([a-z]+(?:-[a-z]+)+)'/g)].map(
        ([, action = '']) => action,
      ),
    );
    expect(inSql.length).toBeGreaterThan(2);
    for (const action of inSql) expect(Object.keys(AUDIT_ACTIONS)).toContain(action);
  });

  it.each(Object.keys(AUDIT_ACTIONS))('%s has a whole sentence, with details and without', (action) => {
    const details = {
      startsAt: '2026-11-26T14:00:00Z',
      endsAt: '2026-11-26T16:00:00Z',
      validFrom: '2026-12-01T00:00:00Z',
      version: 2,
      note: 'stocktake',
      reason: 'a reason',
    };
    for (const entry of [
      { action, details: {}, about: null },
      { action, details, about: 'Wren' },
    ]) {
      const sentence = wordAction(entry, 'Europe/London');
      expect(sentence).toMatch(/^[a-z].*[^.\s]$/);
      expect(sentence).not.toMatch(/undefined|null|NaN|Invalid| {2}/);
    }
  });

  it('of an older release keeps its own word', () => {
    expect(wordAction({ action: 'oven-lit', details: {}, about: null }, 'UTC')).toBe('oven lit');
    expect(FLOOR_ACTIONS).not.toContain('signed-in');
  });
});
