import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { answerAll } from '../support/inductions.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const PASSWORD = 'slate heron under wet roof';

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');
const steward = await signedInMember(house, 'steward');

type Headers = Record<string, string>;

/** A visitor who is signed in as somebody new. */
async function visiting(role: 'member' | 'steward' | 'admin', competences?: readonly string[]) {
  const member = await makeMember(house, role, competences);
  const visitor = visitorOf(house);
  await visitor.signIn(member);
  return { member, visitor };
}

const invite = (email: string, displayName: string, headers: Headers = steward.headers) =>
  api.post('/api/v1/invitations').set(headers).send({ email, displayName }).expect(201);

describe('the head of every sheet', () => {
  it('leads to the members who may see them, and nobody else', async () => {
    const link = 'href="/members"';
    for (const role of ['steward', 'admin'] as const) {
      const { visitor } = await visiting(role);
      expect((await visitor.get('/week').expect(200)).text).toContain(link);
    }
    const { visitor } = await visiting('member');
    expect((await visitor.get('/week').expect(200)).text).not.toContain(link);
    expect((await visitorOf(house).get('/').expect(200)).text).not.toContain(link);
  });

  it('leads to one’s account and signs out', async () => {
    const { member, visitor } = await visiting('member');
    const head = (await visitor.get('/plates').expect(200)).text.split('</header>')[0] ?? '';
    expect(head).toContain('href="/account"');
    expect(head).toContain(member.displayName);
    const out = await visitor.fill('/plates', '/sign-out');
    expect([out.status, out.headers.location]).toEqual([303, '/sign-in']);
    const stranger = (await visitor.get('/').expect(200)).text.split('</header>')[0] ?? '';
    expect(stranger).toContain('href="/sign-in"');
    expect(stranger).not.toContain('action="/sign-out"');
  });
});

describe('who joins by an invitation', () => {
  it('is signed in by a new session, told what is next, and led to the inductions', async () => {
    const { body } = await invite('joins@gullwing.example', 'Nuria Brightwell');
    const path = new URL(body.link).pathname;
    const visitor = visitorOf(house);
    const joined = await visitor.fill(path, path, { displayName: 'Nuria Brightwell', password: PASSWORD });
    expect([joined.status, joined.headers.location]).toEqual([303, '/']);
    const cookies = [joined.headers['set-cookie']].flat().join('\n');
    expect(cookies).toMatch(/session=[^;]+;.*HttpOnly.*SameSite=/);
    const home = (await visitor.get('/').expect(200)).text;
    expect(home).toContain('you are signed in');
    expect(home).toContain('Next: an induction');
    expect((await visitor.get('/').expect(200)).text).not.toContain('you are signed in');
    await visitor.get('/account').expect(200);
    const actions = await database.query<{ action: string }>(
      `select e.action from audit_entry e join member m on m.id = e.actor_id
       where m.email = 'joins@gullwing.example' order by e.id`,
    );
    expect(actions.map(({ action }) => action)).toEqual(['member-joined', 'signed-in']);
  });

  it('is not told of an induction to come once one is begun', async () => {
    const { member, visitor } = await visiting('member', []);
    expect((await visitor.get('/').expect(200)).text).toContain('Next: an induction');
    const { body } = await api
      .post('/api/v1/session')
      .send({ email: member.email, password: 'a plain long sentence' })
      .expect(201);
    const headers = { authorization: `Bearer ${body.token}` };
    await answerAll(house, headers, 'granulator');
    const home = (await visitor.get('/').expect(200)).text;
    expect(home).not.toContain('Next: an induction');
    expect(home).toContain('read: ask for a witness');
    expect((await visitor.get('/inductions').expect(200)).text).toContain('read: ask for a witness');
  });
});

describe('the trail', () => {
  const sentenceOf = async (id: string) => {
    const trail = await api
      .get(`/api/v1/trail?subjectKind=invitation&subjectId=${id}`)
      .set(admin.headers)
      .expect(200);
    return trail.body.items.map(({ sentence }: { sentence: string }) => sentence);
  };

  it('names whom an invitation is for, by the name they have now, and forgets who left', async () => {
    const { body } = await invite('trail@gullwing.example', 'Ishaan Thorne');
    expect(await sentenceOf(body.id)).toEqual(['invited Ishaan Thorne as member']);
    const token = new URL(body.link).pathname.split('/').at(-1);
    const joined = await api
      .post('/api/v1/invitations/use')
      .send({ token, displayName: 'Ish', password: PASSWORD })
      .expect(201);
    expect(await sentenceOf(body.id)).toEqual(['invited Ish as member']);
    await api.post(`/api/v1/members/${joined.body.id}/leaving`).set(admin.headers).expect(200);
    expect(await sentenceOf(body.id)).toEqual([
      `invited Former member ${joined.body.id.slice(0, 8)} as member`,
    ]);
  });

  it('names nobody whose invitation was withdrawn', async () => {
    const { body } = await invite('never@gullwing.example', 'Petra Marsh');
    await api.delete(`/api/v1/invitations/${body.id}`).set(steward.headers).expect(204);
    expect(await sentenceOf(body.id)).toEqual(['withdrew an invitation', 'invited somebody as member']);
  });

  it('tells a competence that the house added by its title', async () => {
    const contents = '## One\n\nText.\n\n## Practical part\n\n- Sawed';
    await api
      .post('/api/v1/competences')
      .set(admin.headers)
      .send({ competence: 'saw-3', title: 'Cold saw', refreshMonths: 1, contents })
      .expect(201);
    const trail = await api.get('/api/v1/trail?subjectKind=competence&subjectId=saw-3').set(admin.headers);
    expect(trail.body.items[0].sentence).toBe('added a competence: Cold saw');
  });
});

describe('inviting an address that is invited already', () => {
  it('says that the first link dies, and makes a new one when that is wanted', async () => {
    const { member, visitor } = await visiting('steward');
    const { body } = await invite('twice@gullwing.example', 'Bram Holloway');
    const token = new URL(body.link).pathname.split('/').at(-1) ?? '';
    const wanted = { email: 'Twice@gullwing.example', displayName: 'Bram', role: 'member' };
    const asked = await visitor.fill('/members/invite', '/members/invite', wanted);
    expect(asked.status).toBe(409);
    expect(asked.text).toContain(`${steward.member.displayName} made a link for Bram Holloway`);
    expect(asked.text).toContain('makes that one worthless');
    await api.get(`/invitation/${token}`).expect(200);
    const again = /name="again" value="([^"]+)"/.exec(asked.text)?.[1] ?? '';
    const made = await visitor.fill('/members/invite', '/members/invite', { ...wanted, again });
    expect(made.status).toBe(201);
    await api.get(`/invitation/${token}`).expect(404);
    const trail = await database.query('select actor_id from audit_entry where subject_id = $1 order by id', [
      body.id,
    ]);
    expect(trail).toEqual([{ actor_id: steward.member.id }, { actor_id: member.id }]);
  });
});

describe('a card', () => {
  it('is verified by its code, typed as people type', async () => {
    const { member, visitor } = await visiting('member');
    await visitor.fill('/inductions/card', '/inductions/card');
    const [row] = await database.query<{ code: string }>(
      'select code from induction_card where member_id = $1',
      [member.id],
    );
    const code = row?.code ?? '';
    const shown = code.replace(/(.{4})(?=.)/g, '$1 ');
    expect((await visitor.get('/inductions/card').expect(200)).text).toContain(shown);
    const witness = (await visiting('steward')).visitor;
    expect((await witness.get('/inductions').expect(200)).text).toContain('href="/verify"');
    const typed = shown.toLowerCase().replaceAll('0', 'o').replaceAll('1', 'l').replaceAll(' ', '-');
    const found = await witness.get(`/verify?code=${encodeURIComponent(typed)}`).expect(303);
    expect(found.headers.location).toBe(`/verify/${code}`);
    expect((await witness.get(`/verify/${code}`).expect(200)).text).toContain(member.displayName);
  });

  it('that is none is said to be none, and members verify nobody', async () => {
    const { visitor } = await visiting('steward');
    const reply = await visitor.get('/verify?code=0000').expect(404);
    expect(reply.text).toContain('No card has this code');
    await visitor.get('/verify').expect(200);
    await (await visiting('member')).visitor.get('/verify').expect(404);
  });

  it('of an older kind is still found', async () => {
    const member = await makeMember(house);
    const code = 'aB3_-xYzaB3_-xYzaB3_-xYz';
    await database.query('insert into induction_card (member_id, code, issued_at) values ($1, $2, now())', [
      member.id,
      code,
    ]);
    const { visitor } = await visiting('steward');
    const found = await visitor.get(`/verify?code=${encodeURIComponent(code)}`).expect(303);
    expect(found.headers.location).toBe(`/verify/${code}`);
  });
});

describe('a form that is sent after the session has ended', () => {
  it('says that what was typed is not kept, and how to keep it', async () => {
    const { visitor } = await visiting('member');
    await visitor.get('/account').expect(200);
    await database.query(
      'update session set ended_at = now() where ended_at is null and member_id is not null',
    );
    const reply = await visitor.post('/account/name', { displayName: 'Typed in vain' });
    expect(reply.status).toBe(401);
    expect(reply.text).toContain('what you typed is not kept here');
    const json = await api.patch('/api/v1/me').set(admin.headers).send({ displayName: 'Typed' });
    expect(codesOf(json)).toEqual(['session-ended']);
  });
});
