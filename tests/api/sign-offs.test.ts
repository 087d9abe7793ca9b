import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { transact } from '../../server/database/transaction.js';
import { signOffReply, signOffsReply } from '../../server/inductions/schemas.js';
import { memberHeld } from '../../server/members/store.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf } from '../support/requests.js';
import { bearerOf, makeMember, signedInMember } from '../support/sign-in.js';
import { untilSomebodyWaits } from '../support/waiting.js';

/** 10:00 in Dublin, on the last day of a month that the next February does not have. */
const NOW = '2026-10-31T10:00:00Z';

const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');
const kofi = await signedInMember(house, 'steward');
const wren = await signedInMember(house, 'member', []);

type Headers = Record<string, string>;

function sign(memberId: string, more: object = {}, headers: Headers = odile.headers) {
  const body = { memberId, competence: 'granulator', note: 'Did all of it.', ...more };
  return api.post('/api/v1/signoffs').set(headers).send(body);
}

function revoke(
  id: string,
  headers: Headers = odile.headers,
  body: object = { reason: 'The guard was tied back.' },
) {
  return api.delete(`/api/v1/signoffs/${id}`).set(headers).send(body);
}

/** A member of nobody's, signed off for the granulator by Odile. */
async function signedOff(more: object = {}) {
  const member = await makeMember(house, 'member', []);
  const reply = await sign(member.id, more).expect(201);
  return { member, signOff: signOffReply.decode(reply.body) };
}

describe('signing off', () => {
  it('says who, for what, which version, until when, and is told to the member and the trail', async () => {
    const { body } = await api.get('/api/v1/competences/granulator').set(odile.headers).expect(200);
    const { checklist } = body;
    const reply = await sign(wren.member.id, { witnessed: checklist });
    expect(reply.status).toBe(201);
    const signOff = signOffReply.decode(reply.body);
    expect(signOff).toMatchObject({
      memberId: wren.member.id,
      competence: 'granulator',
      version: 1,
      state: 'standing',
      founding: false,
      signedBy: odile.member.id,
      note: 'Did all of it.',
      witnessed: checklist,
    });
    // Twelve months on by the shop's own calendar, which has left summer time since.
    expect(signOff.validUntil.toISOString()).toBe('2027-10-31T10:00:00.000Z');
    const trail = await database.query('select action, actor_id from audit_entry where subject_id = $1', [
      signOff.id,
    ]);
    expect(trail).toEqual([{ action: 'signed-off', actor_id: odile.member.id }]);
    const notices = await api.get('/api/v1/notices?unread=true').set(wren.headers).expect(200);
    expect(notices.body.items.map(({ kind }: { kind: string }) => kind)).toContain('signed-off');
  });

  it.each<[string, object, number, string]>([
    ['somebody who is not there', { memberId: '00000000-0000-4000-8000-000000000000' }, 404, 'not-found'],
    ['a malformed member', { memberId: 'wren' }, 404, 'not-found'],
    ['what nobody is signed off for', { competence: 'juggling' }, 404, 'not-found'],
    ['a name that is none', { competence: '../stewarding' }, 404, 'not-found'],
    ['an under-eighteen', { eighteenOrOlder: false }, 422, 'signoff-under-eighteen'],
    ['with too much to say', { note: 'x'.repeat(1001) }, 400, 'field-invalid'],
    [
      'on a sign-off that is not there',
      { refreshes: '00000000-0000-4000-8000-000000000000' },
      409,
      'changed-meanwhile',
    ],
  ])('is refused for %s', async (_what, more, status, code) => {
    const { id } = await makeMember(house, 'member', []);
    const reply = await sign(id, more);
    expect({ status: reply.status, codes: codesOf(reply) }).toEqual({ status, codes: [code] });
    expect(await database.query('select from sign_off where member_id = $1', [id])).toEqual([]);
  });

  it('is for stewards, never for oneself', async () => {
    const { id } = await makeMember(house, 'member', []);
    expect((await sign(id, {}, wren.headers)).status).toBe(403);
    expect(codesOf(await sign(odile.member.id))).toEqual(['signoff-oneself']);
    const roleAlone = await signedInMember(house, 'steward', []);
    expect((await sign(id, {}, roleAlone.headers)).status).toBe(403);
    const adminAlone = await signedInMember(house, 'admin', []);
    expect((await sign(id, {}, adminAlone.headers)).status).toBe(403);
    await api.post('/api/v1/signoffs').send({ memberId: id, competence: 'granulator' }).expect(401);
  });

  it('is refused for who is suspended', async () => {
    const { id } = await makeMember(house, 'member', []);
    await database.query(`update member set state = 'suspended' where id = $1`, [id]);
    expect(codesOf(await sign(id))).toEqual(['member-suspended']);
  });

  it('makes a steward only together with the role', async () => {
    const member = await signedInMember(house, 'member', []);
    await sign(member.member.id, { competence: 'stewarding' }).expect(201);
    const other = await makeMember(house, 'member', []);
    expect((await sign(other.id, {}, member.headers)).status).toBe(403);
    await database.query(`update member set role = 'steward' where id = $1`, [member.member.id]);
    await sign(other.id, {}, member.headers).expect(201);
  });
});

describe('refreshing', () => {
  it('follows the one that stands, by its name, and ends it', async () => {
    const { member, signOff } = await signedOff();
    house.clock.turn(60);
    expect(codesOf(await sign(member.id))).toEqual(['signoff-stands']);
    const refreshed = signOffReply.decode(
      (await sign(member.id, { refreshes: signOff.id }, kofi.headers).expect(201)).body,
    );
    expect(codesOf(await sign(member.id, { refreshes: signOff.id }))).toEqual(['signoff-stands']);
    const history = await api.get(`/api/v1/signoffs?memberId=${member.id}`).set(odile.headers).expect(200);
    expect(signOffsReply.decode(history.body).items.map(({ id, state }) => [id, state])).toEqual([
      [refreshed.id, 'standing'],
      [signOff.id, 'refreshed'],
    ]);
  });

  it('is free once the one before has lapsed', async () => {
    const { member, signOff } = await signedOff();
    const YEAR_MINUTES = 366 * 24 * 60;
    house.clock.turn(YEAR_MINUTES);
    try {
      const steward = await signedInMember(house, 'steward');
      const history = await api
        .get(`/api/v1/signoffs?memberId=${member.id}`)
        .set(steward.headers)
        .expect(200);
      expect(signOffsReply.decode(history.body).items.map(({ state }) => state)).toEqual(['lapsed']);
      expect(codesOf(await revoke(signOff.id, steward.headers))).toEqual(['signoff-ended']);
      await sign(member.id, {}, steward.headers).expect(201);
    } finally {
      house.clock.turn(-YEAR_MINUTES);
    }
  });
});

describe('revoking', () => {
  it('works at once, once, with a reason the member reads, and rewrites nothing', async () => {
    const { member, signOff } = await signedOff();
    const [before] = await database.query('select * from sign_off where id = $1', [signOff.id]);
    const revoked = signOffReply.decode((await revoke(signOff.id).expect(200)).body);
    expect(revoked).toMatchObject({
      state: 'revoked',
      endReason: 'The guard was tied back.',
      endedByName: odile.member.displayName,
    });
    const again = await revoke(signOff.id, kofi.headers);
    expect({ status: again.status, codes: codesOf(again) }).toEqual({
      status: 409,
      codes: ['signoff-ended'],
    });
    expect((await database.query('select * from sign_off where id = $1', [signOff.id]))[0]).toEqual(before);
    await sign(member.id).expect(201);
  });

  it('is for stewards, never for one’s own; what one may not see is not there', async () => {
    const { signOff } = await signedOff();
    expect((await revoke(signOff.id, wren.headers)).status).toBe(404);
    const own = await sign(kofi.member.id).expect(201);
    expect((await revoke(own.body.id, kofi.headers)).status).toBe(403);
    const wrens = await database.query<{ id: string }>('select id from sign_off where member_id = $1', [
      wren.member.id,
    ]);
    expect((await revoke(wrens[0]?.id ?? '', wren.headers)).status).toBe(403);
  });

  it.each<[string, object]>([
    ['no reason', {}],
    ['an empty one', { reason: '  ' }],
    ['one too long', { reason: 'x'.repeat(501) }],
  ])('needs a reason: %s', async (_what, body) => {
    const { signOff } = await signedOff();
    expect((await revoke(signOff.id, odile.headers, body)).status).toBe(400);
  });

  it.each(['nothing', '00000000-0000-4000-8000-000000000000'])('finds nothing at %s', async (id) => {
    expect((await revoke(id)).status).toBe(404);
  });

  it('of stewarding ends it with the next request', async () => {
    const steward = await signedInMember(house, 'steward', []);
    const { body } = await sign(steward.member.id, { competence: 'stewarding' }).expect(201);
    const { id } = await makeMember(house, 'member', []);
    await sign(id, { competence: 'press-operation' }, steward.headers).expect(201);
    await revoke(body.id).expect(200);
    expect((await sign(id, {}, steward.headers)).status).toBe(401);
    const anew = await bearerOf(house, steward.member);
    expect((await sign(id, {}, anew)).status).toBe(403);
  });
});

describe('seeing sign-offs', () => {
  it('is for oneself, stewards and admins; others’ are not there', async () => {
    const { member } = await signedOff();
    const own = await api.get('/api/v1/signoffs').set(wren.headers).expect(200);
    expect(signOffsReply.decode(own.body).items.every(({ memberId }) => memberId === wren.member.id)).toBe(
      true,
    );
    await api.get(`/api/v1/signoffs?memberId=${member.id}`).set(wren.headers).expect(404);
    const admin = await signedInMember(house, 'admin', []);
    await api.get(`/api/v1/signoffs?memberId=${member.id}`).set(admin.headers).expect(200);
  });
});

describe('at the same moment', () => {
  const ROUNDS = 12;

  it('two stewards sign one member: one does, the other finds it standing', async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const { id } = await makeMember(house, 'member', []);
      const replies = await Promise.all([sign(id), sign(id, {}, kofi.headers)]);
      const outcomes = replies.map((reply) => (reply.status === 201 ? 'signed' : codesOf(reply).join()));
      expect(outcomes.sort(), `round ${round}`).toEqual(['signed', 'signoff-stands']);
      expect(await database.query('select from sign_off where member_id = $1', [id])).toHaveLength(1);
    }
  });

  it('two stewards refresh one sign-off: one does', async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const { member, signOff } = await signedOff();
      house.clock.turn(1);
      const more = { refreshes: signOff.id };
      const replies = await Promise.all([sign(member.id, more), sign(member.id, more, kofi.headers)]);
      expect(replies.map(({ status }) => status).sort(), `round ${round}`).toEqual([201, 409]);
    }
  });

  it('two stewards revoke one sign-off: one does', async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const { signOff } = await signedOff();
      const replies = await Promise.all([revoke(signOff.id), revoke(signOff.id, kofi.headers)]);
      expect(replies.map(({ status }) => status).sort(), `round ${round}`).toEqual([200, 409]);
      expect(
        await database.query('select from sign_off_end where sign_off_id = $1', [signOff.id]),
      ).toHaveLength(1);
    }
  });

  it('one refreshes what another revokes: it ends in one way', async () => {
    for (let round = 0; round < ROUNDS; round++) {
      const { member, signOff } = await signedOff();
      house.clock.turn(1);
      const [signed, revoked] = await Promise.all([
        sign(member.id, { refreshes: signOff.id }),
        revoke(signOff.id, kofi.headers),
      ]);
      expect([
        [201, 409],
        [409, 200],
      ]).toContainEqual([signed.status, revoked.status]);
    }
  });
});

describe('a steward whose stewarding is revoked meanwhile', () => {
  /** A steward, and the id of what makes them one. */
  async function steward() {
    const made = await signedInMember(house, 'steward', []);
    const { body } = await sign(made.member.id, { competence: 'stewarding' }).expect(201);
    return { ...made, stewardingId: signOffReply.decode(body).id };
  }

  /** Revokes the stewarding while the steward asks; gives what the steward is answered. */
  async function revokedWhile(ask: (headers: Headers) => PromiseLike<supertest.Response>) {
    const { member, headers, stewardingId } = await steward();
    const { reply } = await transact(database, async (tx) => {
      await memberHeld(tx, member.id);
      let answered = false;
      const asking = Promise.resolve(ask(headers)).finally(() => {
        answered = true;
      });
      await untilSomebodyWaits(database, () => answered);
      await tx.query(
        `insert into sign_off_end (sign_off_id, kind, ended_by, reason, ended_at)
         values ($1, 'revoked', $2, 'Tied the guard back.', $3)`,
        [stewardingId, odile.member.id, house.clock.now()],
      );
      return { reply: asking };
    });
    return reply;
  }

  it('signs nobody off', async () => {
    const { id } = await makeMember(house, 'member', []);
    expect((await revokedWhile((headers) => sign(id, {}, headers))).status).toBe(403);
    expect(await database.query('select from sign_off where member_id = $1', [id])).toEqual([]);
  });

  it('revokes nothing', async () => {
    const { signOff } = await signedOff();
    expect((await revokedWhile((headers) => revoke(signOff.id, headers))).status).toBe(403);
    expect(await database.query('select from sign_off_end where sign_off_id = $1', [signOff.id])).toEqual([]);
  });

  it('has signed before it, or not at all', async () => {
    const ROUNDS = 12;
    for (let round = 0; round < ROUNDS; round++) {
      const { member, headers, stewardingId } = await steward();
      const { id } = await makeMember(house, 'member', []);
      const [signed, revoked] = await Promise.all([sign(id, {}, headers), revoke(stewardingId)]);
      expect(revoked.status).toBe(200);
      expect([201, 403], `round ${round}`).toContain(signed.status);
      const trail = await database.query<{ action: string }>(
        `select action from audit_entry where subject_id = $1 or (action = 'signed-off' and actor_id = $2)
           and subject_id <> $1 order by id`,
        [stewardingId, member.id],
      );
      const told = ['signed-off', ...(signed.status === 201 ? ['signed-off'] : []), 'sign-off-revoked'];
      expect(
        trail.map(({ action }) => action),
        `round ${round}`,
      ).toEqual(told);
    }
  });
});

describe('whoever writes, the database', () => {
  /** The name of the constraint that a change is refused by. */
  async function refusedBy(sql: string, values: readonly (string | Date)[] = [], db = database) {
    const error = await db.query(sql, values).then(
      () => undefined,
      (thrown: unknown) => thrown,
    );
    return pgFaultOf(error);
  }

  const INSERT = `insert into sign_off (member_id, competence, version, signed_by, founding, eighteen_or_older,
    signed_at, valid_until) values ($1, 'drying-oven', 1, $2`;

  it.each([
    [
      'a sign-off',
      `update sign_off set valid_until = valid_until + interval '1 year'`,
      'sign_off_append_only',
    ],
    ['who signed', 'update sign_off set signed_by = member_id', 'sign_off_append_only'],
    ['a note of somebody who is here', 'update sign_off set note = null', 'sign_off_append_only'],
    ['a sign-off away', 'delete from sign_off', 'sign_off_append_only'],
    ['all of them away', 'truncate sign_off cascade', 'sign_off_append_only'],
    ['an end', `update sign_off_end set ended_at = now()`, 'sign_off_end_append_only'],
    ['its reason', `update sign_off_end set reason = 'other'`, 'sign_off_end_append_only'],
    ['an end away', 'delete from sign_off_end', 'sign_off_end_append_only'],
    ['all ends away', 'truncate sign_off_end', 'sign_off_end_append_only'],
    [
      'contents that were signed for',
      `update induction_version set contents = 'x'`,
      'induction_version_append_only',
    ],
    ['contents away', 'delete from induction_version', 'induction_version_append_only'],
  ])('never changes or takes %s', async (_what, sql, constraint) => {
    const { signOff } = await signedOff();
    await revoke(signOff.id).expect(200);
    expect(await refusedBy(sql)).toEqual({ sqlState: 'PS001', constraint });
  });

  it('lets nobody sign off themselves, but as a marked founding declaration', async () => {
    const own = `${INSERT}, false, true, now(), now() + interval '1 year')`;
    const constraint = 'sign_off_never_oneself';
    expect(await refusedBy(own, [wren.member.id, wren.member.id])).toMatchObject({ constraint });
    const founding = own.replace('false, true', 'true, true');
    expect(await refusedBy(founding, [wren.member.id, odile.member.id])).toMatchObject({ constraint });
  });

  describe('of a house that nobody stewards yet', async () => {
    const FOUNDING = `insert into sign_off (member_id, competence, version, signed_by, founding, eighteen_or_older,
      signed_at, valid_until) values ($1, $2, 1, $1, true, true, $3::timestamptz, $3 + interval '1 year')`;
    const fresh = await testDatabase();
    const freshHouse = await testHouse(fresh, { at: NOW });
    const [first, second, steward] = [
      await makeMember(freshHouse, 'admin', []),
      await makeMember(freshHouse, 'admin', []),
      await makeMember(freshHouse, 'steward', ['press-operation']),
    ];
    const at = (minutes: number) => new Date(Date.parse(NOW) + minutes * 60_000);
    const declared = (id: string, competence: string, minutes: number) =>
      refusedBy(FOUNDING, [id, competence, at(minutes)], fresh);

    it('knows one founder, who founds once', async () => {
      expect(await declared(first.id, 'granulator', 0)).toBeUndefined();
      expect(await declared(second.id, 'stewarding', 0)).toMatchObject({
        constraint: 'sign_off_one_founder',
      });
      expect(await declared(first.id, 'stewarding', 1)).toBeUndefined();
      expect(await declared(first.id, 'drying-oven', 1)).toBeUndefined();
      const constraint = 'sign_off_founding_once';
      expect(await declared(first.id, 'press-operation', 2)).toMatchObject({ constraint });
      await fresh.query(
        `insert into sign_off_end (sign_off_id, kind, ended_by, reason, ended_at)
         select id, 'revoked', $1, 'Tied the guard back.', $2 from sign_off where founding`,
        [steward.id, at(3)],
      );
      expect(await declared(first.id, 'drying-oven', 1)).toMatchObject({ constraint });
      expect(await declared(first.id, 'stewarding', 4)).toMatchObject({ constraint });
    });
  });

  it('lets nobody found once a steward was signed off', async () => {
    const founding = `${INSERT}, true, true, now(), now() + interval '1 year')`;
    const { id } = await makeMember(house, 'admin', []);
    const constraint = 'sign_off_founding_once';
    expect(await refusedBy(founding, [id, id])).toMatchObject({ constraint });
  });

  it.each([
    ['before it was signed', () => [odile.member.id, new Date(0)], 'sign_off_end_order'],
    ['by who has it', (id: string) => [id, new Date('2100-01-01')], 'sign_off_end_never_oneself'],
  ] as const)('lets no sign-off end %s', async (_what, byAndAt, constraint) => {
    const { member, signOff } = await signedOff();
    const end = `insert into sign_off_end (sign_off_id, kind, ended_by, reason, ended_at)
      values ($1, 'revoked', $2, 'Tied the guard back.', $3)`;
    expect(await refusedBy(end, [signOff.id, ...byAndAt(member.id)])).toMatchObject({ constraint });
  });

  it.each([
    ['an under-eighteen', "false, false, now(), now() + interval '1 year')", 'sign_off_eighteen_or_older'],
    ['one that is over before it begins', 'false, true, now(), now())', 'sign_off_order'],
  ])('refuses %s', async (_what, rest, constraint) => {
    const { id } = await makeMember(house, 'member', []);
    expect(await refusedBy(`${INSERT}, ${rest}`, [id, odile.member.id])).toMatchObject({ constraint });
  });

  it('lets one stand at a time', async () => {
    const { id } = await makeMember(house, 'member', []);
    const one = `${INSERT}, false, true, now(), now() + interval '1 year')`;
    expect(await refusedBy(one, [id, odile.member.id])).toBeUndefined();
    const constraint = 'sign_off_one_standing';
    expect(await refusedBy(one, [id, kofi.member.id])).toMatchObject({ constraint });
  });

  it('wants a reason for a revocation', async () => {
    const { signOff } = await signedOff();
    const end = `insert into sign_off_end (sign_off_id, kind, ended_by, ended_at) values ($1, 'revoked', $2, now())`;
    expect(await refusedBy(end, [signOff.id, odile.member.id])).toMatchObject({
      constraint: 'sign_off_end_says_why',
    });
  });

  it('refuses an interval of zero', async () => {
    const zero = `insert into induction_version (competence, version, title, refresh_months, contents, created_at)
      values ('granulator', 99, 'Granulator', 0, 'x', now())`;
    expect(await refusedBy(zero)).toMatchObject({ constraint: 'induction_version_refresh_positive' });
  });
});
