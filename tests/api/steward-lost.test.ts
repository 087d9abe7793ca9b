import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { transact } from '../../server/database/transaction.js';
import { doChore } from '../../server/http/chores.js';
import type { House } from '../../server/http/house.js';
import { accept } from '../../server/http/refused.js';
import { remindOfLapses } from '../../server/inductions/remind.js';
import { signOffReply } from '../../server/inductions/schemas.js';
import { stewardsNow } from '../../server/inductions/standing.js';
import type { PeopleCtx } from '../../server/members/acted-on.js';
import { endStewarding } from '../../server/members/end-stewarding.js';
import { invite } from '../../server/members/invite.js';
import { memberHeld } from '../../server/members/store.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';
import { untilSomebodyWaits } from '../support/waiting.js';

const database = await testDatabase();
const house = await testHouse(database, {
  at: '2026-11-23T09:00:00Z',
  settings: { sessionHours: 24 * 900, sessionIdleMinutes: 60 * 24 * 900 },
});
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');
const PASSWORD = 'slate heron under wet roof';

type Headers = Record<string, string>;

let invited = 0;

const freshAddress = () => {
  invited += 1;
  return `handed-${invited}@gullwing.example`;
};

/** Somebody whom Odile has signed off for stewarding, and the id of that. */
async function steward(role: 'steward' | 'admin' = 'steward') {
  const made = await signedInMember(house, role, []);
  const { body } = await api
    .post('/api/v1/signoffs')
    .set(odile.headers)
    .send({ memberId: made.member.id, competence: 'stewarding', note: 'Led a whole session.' })
    .expect(201);
  return { ...made, stewardingId: signOffReply.decode(body).id };
}

const inviteBy = (headers: Headers, email = freshAddress()) =>
  api.post('/api/v1/invitations').set(headers).send({ email, displayName: 'Invited' });

const tokenOf = (link: string) => new URL(link).pathname.split('/').at(-1) ?? '';

/** The status that somebody gets who uses what was handed over. */
async function uses(links: { invitation: string; reset: string }): Promise<readonly number[]> {
  const joined = await api
    .post('/api/v1/invitations/use')
    .send({ token: tokenOf(links.invitation), displayName: 'Nuria', password: PASSWORD });
  const reset = await api
    .post('/api/v1/password-resets/use')
    .send({ token: tokenOf(links.reset), password: PASSWORD });
  return [joined.status, reset.status];
}

async function handsOver(headers: Headers) {
  const member = await makeMember(house);
  const invitation = await inviteBy(headers).expect(201);
  const reset = await api.post(`/api/v1/members/${member.id}/password-reset`).set(headers).expect(201);
  return { invitation: invitation.body.link, reset: reset.body.link };
}

describe('who stewards no longer', () => {
  it('by a revocation: their sessions and the links they handed over have ended', async () => {
    const { headers, stewardingId } = await steward();
    const links = await handsOver(headers);
    await api
      .delete(`/api/v1/signoffs/${stewardingId}`)
      .set(odile.headers)
      .send({ reason: 'Signed off what was not seen.' })
      .expect(200);
    await api.get('/api/v1/me').set(headers).expect(401);
    expect(await uses(links)).toEqual([404, 404]);
  });

  it('by a lapse: the same', async () => {
    const { headers } = await steward();
    const links = await handsOver(headers);
    const lapsed = 13 * 31 * 24 * 60;
    house.clock.turn(lapsed);
    try {
      const asHouse = { database, now: house.clock.now } as unknown as House;
      const ended = [endStewarding(stewardsNow)];
      await doChore(asHouse, { name: 'reminders', run: (tx, at) => remindOfLapses(tx, at, ended) });
    } finally {
      house.clock.turn(-lapsed);
    }
    await api.get('/api/v1/me').set(headers).expect(401);
    expect(await uses(links)).toEqual([404, 404]);
  });

  it('but is an admin: what they handed over stays, for they may hand it over still', async () => {
    const { headers, stewardingId } = await steward('admin');
    const links = await handsOver(headers);
    await api
      .delete(`/api/v1/signoffs/${stewardingId}`)
      .set(odile.headers)
      .send({ reason: 'Long away.' })
      .expect(200);
    await api.get('/api/v1/me').set(headers).expect(401);
    expect(await uses(links)).toEqual([201, 204]);
  });

  it('by the end of another sign-off: nothing ends', async () => {
    const { member, headers } = await steward();
    const links = await handsOver(headers);
    const { body } = await api
      .post('/api/v1/signoffs')
      .set(odile.headers)
      .send({ memberId: member.id, competence: 'granulator', note: 'Cleared a jam.' })
      .expect(201);
    await api.delete(`/api/v1/signoffs/${body.id}`).set(odile.headers).send({ reason: 'No.' }).expect(200);
    await api.get('/api/v1/me').set(headers).expect(200);
    expect(await uses(links)).toEqual([201, 204]);
  });
});

describe('a steward whose stewarding is revoked while they ask', () => {
  /** Answers of a steward who is revoked between the start of the request and its first lock. */
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

  it('suspends nobody', async () => {
    const { id } = await makeMember(house);
    const reply = await revokedWhile((headers) =>
      api.post(`/api/v1/members/${id}/suspension`).set(headers).send({ reason: 'Ran alone.' }),
    );
    expect([reply.status, codesOf(reply)]).toEqual([404, ['not-found']]);
    expect(await database.query('select from member_suspension where member_id = $1', [id])).toEqual([]);
  });

  it('invites nobody', async () => {
    const email = freshAddress();
    const reply = await revokedWhile((headers) => inviteBy(headers, email));
    expect([reply.status, codesOf(reply)]).toEqual([403, ['not-allowed']]);
    expect(await database.query('select from one_time_link where email = $1', [email])).toEqual([]);
  });

  it('hands over no link for a new password, and ends no sessions', async () => {
    const { member, headers } = await signedInMember(house);
    const reset = await revokedWhile((by) => api.post(`/api/v1/members/${member.id}/password-reset`).set(by));
    expect(reset.status).toBe(404);
    expect(await database.query('select from one_time_link where member_id = $1', [member.id])).toEqual([]);
    const out = await revokedWhile((by) => api.delete(`/api/v1/members/${member.id}/sessions`).set(by));
    expect(out.status).toBe(404);
    await api.get('/api/v1/me').set(headers).expect(200);
  });

  it('withdraws no invitation', async () => {
    const { body } = await inviteBy(odile.headers).expect(201);
    const reply = await revokedWhile((by) => api.delete(`/api/v1/invitations/${body.id}`).set(by));
    expect(reply.status).toBe(404);
    const open = await database.query('select from one_time_link where id = $1 and withdrawn_at is null', [
      body.id,
    ]);
    expect(open).toHaveLength(1);
  });
});

describe('one address, invited twice at the same moment', () => {
  it('is invited once; the second is told what to do', async () => {
    const email = freshAddress();
    const kofi = await signedInMember(house, 'steward');
    const { asking } = await transact(database, async (tx) => {
      const actor = { memberId: odile.member.id, role: 'steward', stewards: true } as const;
      const ctx: PeopleCtx = {
        actor: { ...actor, displayName: '', sessionIdHash: '' },
        now: house.clock.now(),
        tx,
        stewardsAt: stewardsNow,
      };
      accept(await invite(ctx, { email, displayName: 'Once', role: 'member' }));
      const second = Promise.resolve(inviteBy(kofi.headers, email));
      await untilSomebodyWaits(database);
      return { asking: second };
    });
    const reply = await asking;
    expect([reply.status, codesOf(reply)]).toEqual([409, ['invited-meanwhile']]);
    expect(reply.body.reasons[0].fix).toContain('withdraw');
    expect(await database.query('select from one_time_link where email = $1', [email])).toHaveLength(1);
  });
});
