import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { transact } from '../../server/database/transaction.js';
import { declareAtFounding } from '../../server/inductions/declare-founding.js';
import {
  answersReply,
  competencesReply,
  inductionReply,
  signOffsReply,
} from '../../server/inductions/schemas.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { answerAll, askForWitness, rightAnswers } from '../support/inductions.js';
import { codesOf, formTokenOf, visitorOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const NOW = '2026-11-23T08:00:00Z';
const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');
const maren = await signedInMember(house, 'admin', []);

type Headers = Record<string, string>;

const CONTENTS = `## One

Mind your fingers.

> **Blades.** They cut. *Common practice, no source.*

### Question: What do blades do?
- [ ] Nothing
  They cut.
- [x] Cut
  So they do.

### Question: And then?
- [x] It hurts
  It does.
- [ ] It tickles
  It does not.

## Two

Read this.

## Practical part

- Kept their fingers
- Swept up
`;

let competencesMade = 0;

/** A competence of its own for a test, written by the admin. */
async function competence(contents = CONTENTS): Promise<string> {
  competencesMade += 1;
  const name = `saw-${competencesMade}`;
  await api
    .post('/api/v1/competences')
    .set(maren.headers)
    .send({ competence: name, title: 'Saw', refreshMonths: 6, contents })
    .expect(201);
  return name;
}

function answer(name: string, body: object, headers: Headers) {
  return api.post(`/api/v1/competences/${name}/answers`).set(headers).send(body);
}

describe('the competences', () => {
  it('are what every house begins with, in the order of the work, with one’s own way through them', async () => {
    const wren = await signedInMember(house, 'member', ['press-operation']);
    const reply = await api.get('/api/v1/competences').set(wren.headers).expect(200);
    const { items } = competencesReply.decode(reply.body);
    expect(
      items.slice(0, 5).map((item) => [item.competence, item.version, item.signOff?.state ?? null]),
    ).toEqual([
      ['press-operation', 1, 'standing'],
      ['plate-change', 1, null],
      ['drying-oven', 1, null],
      ['granulator', 1, null],
      ['stewarding', 1, null],
    ]);
  });

  it('are read by members alone, and never say which answer is right', async () => {
    await api.get('/api/v1/competences').expect(401);
    const wren = await signedInMember(house, 'member', []);
    const reply = await api.get('/api/v1/competences/granulator').set(wren.headers).expect(200);
    const { parts, checklist } = inductionReply.decode(reply.body);
    expect(parts[0]?.questions[0]?.answers.length).toBeGreaterThan(1);
    expect(checklist.length).toBeGreaterThan(3);
    await api.get('/api/v1/competences/juggling').set(wren.headers).expect(404);
    await api.get('/api/v1/competences/granulator?version=9').set(wren.headers).expect(404);
  });
});

describe('answering', () => {
  it('keeps half of the answers and says what each has to say for itself', async () => {
    const name = await competence();
    const wren = await signedInMember(house, 'member', []);
    const half = await answer(name, { version: 1, part: 1, answers: [0, null] }, wren.headers).expect(200);
    expect(answersReply.decode(half.body)).toEqual({
      done: false,
      questions: [
        { asks: 'What do blades do?', chosen: 0, right: false, why: 'They cut.' },
        { asks: 'And then?', chosen: null, right: false, why: null },
      ],
    });
    const whole = await answer(name, { version: 1, part: 1, answers: [1, 0] }, wren.headers).expect(200);
    expect(whole.body.done).toBe(true);
  });

  it.each<[string, object, number, string]>([
    ['an answer that is not there', { answers: [5] }, 400, 'field-invalid'],
    ['more answers than questions', { answers: [0, 0, 0] }, 400, 'field-invalid'],
    ['a part that is not there', { part: 9 }, 404, 'not-found'],
    ['an older version', { version: 7 }, 409, 'changed-meanwhile'],
    ['answers that are none', { answers: 'all' }, 400, 'field-invalid'],
  ])('is refused: %s', async (_what, more, status, code) => {
    const name = await competence();
    const wren = await signedInMember(house, 'member', []);
    const reply = await answer(name, { version: 1, part: 1, answers: [], ...more }, wren.headers);
    expect({ status: reply.status, codes: codesOf(reply) }).toEqual({ status, codes: [code] });
  });

  it('has a form that keeps half an answer and links to what is missing', async () => {
    const name = await competence();
    const wren = await makeMember(house, 'member', []);
    const visitor = visitorOf(house);
    await visitor.signIn(wren);
    const path = `/inductions/${name}/1`;
    const half = await visitor.submit(path, path, { version: '1', q0: '1' });
    expect(half.status).toBe(422);
    expect(half.text).toContain('href="#q1-0"');
    expect(half.text).toMatch(/id="q0-1"[^>]* checked/);
    const later = await visitor.get(path).expect(200);
    expect(later.text).toMatch(/id="q0-1"[^>]* checked/);
    expect(later.text).toContain('So they do.');
    const whole = await visitor.post(path, {
      _csrf: formTokenOf(later.text),
      version: '1',
      q0: '1',
      q1: '1',
    });
    expect(whole.status).toBe(303);
    const told = await visitor.get(path).expect(200);
    expect(told.text).toContain('It does not.');
    const nonsense = await visitor.submit(path, path, { version: '1', q0: '<b>', q1: '99' });
    expect(nonsense.status).toBe(422);
  });
});

describe('asking for a witness', () => {
  it('waits until every part is done, is told to the stewards, and is made once', async () => {
    const name = await competence();
    const wren = await signedInMember(house, 'member', []);
    const ask = () =>
      api.post(`/api/v1/competences/${name}/witness`).set(wren.headers).send({ note: 'Thursday?' });
    await answer(name, { version: 1, part: 2 }, wren.headers).expect(200);
    const early = await ask();
    expect({ status: early.status, codes: codesOf(early) }).toEqual({
      status: 422,
      codes: ['induction-unfinished'],
    });
    expect(early.body.reasons[0].message).toContain('open are 1');
    await answerAll(house, wren.headers, name);
    const asked = await ask().expect(201);
    expect(codesOf(await ask())).toEqual(['witness-asked-already']);
    const notices = await api.get('/api/v1/notices?unread=true').set(odile.headers).expect(200);
    expect(notices.body.items).toContainEqual(
      expect.objectContaining({ kind: 'witness-wanted', href: `/inductions/witness/${asked.body.id}` }),
    );
    const waiting = await api.get('/api/v1/witness-requests').set(odile.headers).expect(200);
    expect(waiting.body.items.map(({ id }: { id: string }) => id)).toContain(asked.body.id);
    const tamsin = await signedInMember(house, 'member', []);
    expect((await api.get('/api/v1/witness-requests').set(tamsin.headers)).body.items).toEqual([]);
  });

  it('can be withdrawn, once', async () => {
    const name = await competence();
    const wren = await signedInMember(house, 'member', []);
    await askForWitness(house, wren.headers, name);
    const withdraw = () => api.delete(`/api/v1/competences/${name}/witness`).set(wren.headers);
    await withdraw().expect(204);
    expect(codesOf(await withdraw())).toEqual(['witness-not-asked']);
  });

  it('two at once make one request', async () => {
    for (let round = 0; round < 8; round++) {
      const name = await competence();
      const wren = await signedInMember(house, 'member', []);
      await answerAll(house, wren.headers, name);
      const ask = () => api.post(`/api/v1/competences/${name}/witness`).set(wren.headers).send({});
      const replies = await Promise.all([ask(), ask()]);
      expect(replies.map(({ status }) => status).sort()).toEqual([201, 409]);
    }
  });
});

describe('the witness’s sheet', () => {
  it('signs off only what was seen whole, and of whom it is declared that they are eighteen', async () => {
    const name = await competence();
    const wren = await signedInMember(house, 'member', []);
    const id = await askForWitness(house, wren.headers, name);
    const steward = visitorOf(house);
    await steward.signIn(odile.member);
    const path = `/inductions/witness/${id}`;
    const half = await steward.submit(path, path, { item0: 'on', note: 'Careful hands.' });
    expect(half.status).toBe(422);
    expect(half.text).toContain('href="#item1"');
    expect(half.text).toContain(`<h1>${wren.member.displayName}: Saw</h1>`);
    expect(half.text).toContain('href="#eighteen"');
    expect(half.text).toMatch(/id="item0"[^>]* checked/);
    expect(half.text).toContain('Careful hands.');
    const whole = await steward.submit(path, path, { item0: 'on', item1: 'on', eighteen: 'on', note: '' });
    expect(whole.status).toBe(303);
    const history = await api.get('/api/v1/signoffs').set(wren.headers).expect(200);
    expect(signOffsReply.decode(history.body).items).toEqual([
      expect.objectContaining({
        competence: name,
        witnessed: ['Kept their fingers', 'Swept up'],
        note: null,
      }),
    ]);
    await steward.get(path).expect(409);
    expect((await steward.post(path, {})).status).toBe(403);
  });

  it('is not for members, nor for one’s own request', async () => {
    const name = await competence();
    const kofi = await signedInMember(house, 'steward');
    const id = await askForWitness(house, kofi.headers, name);
    const visitor = visitorOf(house);
    await visitor.signIn(kofi.member);
    expect((await visitor.get(`/inductions/witness/${id}`)).text).toContain('Nobody signs off themselves');
    const wren = visitorOf(house);
    await wren.signIn(await makeMember(house, 'member', []));
    await wren.get(`/inductions/witness/${id}`).expect(403);
    await wren.get('/inductions/witness').expect(403);
  });

  it('signs for the version that was answered, with its interval', async () => {
    const name = await competence();
    const wren = await signedInMember(house, 'member', []);
    await askForWitness(house, wren.headers, name);
    await write(name, { refreshMonths: 24 }, 1).expect(200);
    const { body } = await api
      .post('/api/v1/signoffs')
      .set(odile.headers)
      .send({ memberId: wren.member.id, competence: name, note: 'Did it.' })
      .expect(201);
    expect({ version: body.version, validUntil: body.validUntil }).toEqual({
      version: 1,
      validUntil: '2027-05-23T07:00:00.000Z',
    });
  });
});

function write(name: string, more: object, basedOn: number, headers: Headers = maren.headers) {
  return api
    .put(`/api/v1/competences/${name}`)
    .set(headers)
    .send({ title: 'Saw', refreshMonths: 6, contents: CONTENTS, basedOn, ...more });
}

describe('writing contents', () => {
  it('keeps every version, and answers to an old one count no more', async () => {
    const name = await competence();
    const wren = await signedInMember(house, 'member', []);
    await answerAll(house, wren.headers, name);
    const written = await write(name, { contents: CONTENTS.replace('Mind', 'Watch') }, 1).expect(200);
    expect(written.body).toEqual({ competence: name, version: 2 });
    const first = await api.get(`/api/v1/competences/${name}?version=1`).set(wren.headers).expect(200);
    expect(first.body.contents).toBe(CONTENTS);
    expect((await rightAnswers(house, name)).version).toBe(2);
    const ask = await api.post(`/api/v1/competences/${name}/witness`).set(wren.headers).send({});
    expect(codesOf(ask)).toEqual(['induction-unfinished']);
  });

  it('keeps no version that says what the latest does', async () => {
    const name = await competence();
    const { title, refreshMonths, contents } = (
      await api.get(`/api/v1/competences/${name}`).set(maren.headers).expect(200)
    ).body;
    const same = { title, refreshMonths, contents };
    const refused = await write(name, same, 1);
    expect([refused.status, codesOf(refused)]).toEqual([422, ['contents-unchanged']]);
    expect((await rightAnswers(house, name)).version).toBe(1);
    await write(name, { ...same, refreshMonths: refreshMonths + 1 }, 1).expect(200);
  });

  it.each<[string, object, number, string]>([
    ['an interval of zero', { refreshMonths: 0 }, 400, 'field-invalid'],
    ['an interval below zero', { refreshMonths: -12 }, 400, 'field-invalid'],
    ['half a month', { refreshMonths: 0.5 }, 400, 'field-invalid'],
    ['no title', { title: ' ' }, 400, 'field-invalid'],
    [
      'a picture from elsewhere',
      { contents: `## One\n\n![x](https://elsewhere.example/x.png)\n\n## Practical part\n\n- x\n` },
      422,
      'contents-not-readable',
    ],
    ['a text without end', { contents: 'x'.repeat(60_001) }, 400, 'field-invalid'],
    ['a NUL', { contents: `${CONTENTS}\0` }, 400, 'field-invalid'],
  ])('is refused: %s', async (_what, more, status, code) => {
    const name = await competence();
    const reply = await write(name, more, 1);
    expect(reply.status).toBe(status);
    expect(codesOf(reply)).toContain(code);
    expect((await rightAnswers(house, name)).version).toBe(1);
  });

  it('is for admins; nobody writes over another unseen', async () => {
    const name = await competence();
    expect((await write(name, {}, 1, odile.headers)).status).toBe(403);
    const both = await Promise.all([write(name, { title: 'A' }, 1), write(name, { title: 'B' }, 1)]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect(codesOf(await write('juggling', {}, 1))).toEqual(['not-found']);
    const again = await api
      .post('/api/v1/competences')
      .set(maren.headers)
      .send({ competence: name, title: 'Saw', refreshMonths: 6, contents: CONTENTS });
    expect(codesOf(again)).toEqual(['competence-taken']);
  });

  it.each(['Saw', 'saw bench', 'card', '-saw', 'saw--bench', '../saw'])(
    'takes no name like %s',
    async (name) => {
      const reply = await api
        .post('/api/v1/competences')
        .set(maren.headers)
        .send({ competence: name, title: 'Saw', refreshMonths: 6, contents: CONTENTS });
      expect(reply.status).toBe(400);
    },
  );

  it('has a preview that keeps nothing, and shows a script as text', async () => {
    const name = await competence();
    const visitor = visitorOf(house);
    await visitor.signIn(maren.member);
    const path = `/inductions/${name}/edit`;
    const shown = await visitor.get(path).expect(200);
    expect(shown.text).toContain(`>${CONTENTS.replaceAll('>', '&gt;').split('\n').slice(0, 9).join('\n')}`);
    const contents = CONTENTS.replace('Mind your fingers.', '<script>alert(1)</script> and **bold**');
    const fields = { title: 'Saw', refreshMonths: '6', basedOn: '1', contents };
    const preview = await visitor.submit(path, path, { ...fields, do: 'preview' });
    expect(preview.status).toBe(200);
    expect(preview.text).toContain('&lt;script&gt;alert(1)&lt;/script&gt; and <strong>bold</strong>');
    expect(preview.text).not.toContain('<script>alert');
    expect((await rightAnswers(house, name)).version).toBe(1);
    const broken = await visitor.submit(path, path, { ...fields, contents: '# Title', do: 'preview' });
    expect(broken.status).toBe(422);
    expect(broken.text).toContain('line 1');
    const zero = await visitor.submit(path, path, { ...fields, refreshMonths: '0', do: 'keep' });
    expect(zero.status).toBe(422);
    const kept = await visitor.submit(path, path, { ...fields, do: 'keep' });
    expect(kept.status).toBe(303);
    expect((await rightAnswers(house, name)).version).toBe(2);
  });
});

describe('a card', () => {
  it('leads a steward, and nobody else, to what stands now; a new one makes the old worthless', async () => {
    const wren = await makeMember(house, 'member', ['press-operation']);
    const holder = visitorOf(house);
    await holder.signIn(wren);
    const code = async () => {
      await holder.submit('/inductions/card', '/inductions/card');
      const [row] = await database.query<{ code: string }>(
        'select code from induction_card where member_id = $1',
        [wren.id],
      );
      return row?.code ?? '';
    };
    const first = await code();
    expect(first).toMatch(/^[\w-]{24}$/);
    expect((await holder.get('/inductions/card')).text).toContain('<svg class="ps-qr"');
    const steward = visitorOf(house);
    await steward.signIn(odile.member);
    const seen = await steward.get(`/verify/${first}`).expect(200);
    expect(seen.text).toContain(wren.displayName);
    expect(seen.text).toContain('Press operation');
    await holder.get(`/verify/${first}`).expect(404);
    await visitorOf(house).get(`/verify/${first}`).expect(303);
    const second = await code();
    await steward.get(`/verify/${first}`).expect(404);
    await steward.get(`/verify/${second}`).expect(200);
    await database.query(`update member set state = 'suspended' where id = $1`, [wren.id]);
    expect((await steward.get(`/verify/${second}`)).text).toContain('Suspended.');
  });
});

describe('a member who leaves', () => {
  it('is forgotten in words; that they were signed off stays', async () => {
    const name = await competence();
    const wren = await signedInMember(house, 'member', []);
    await askForWitness(house, wren.headers, name);
    const { body } = await api
      .post('/api/v1/signoffs')
      .set(odile.headers)
      .send({ memberId: wren.member.id, competence: name, note: 'Wren from next door.' })
      .expect(201);
    await api
      .delete(`/api/v1/signoffs/${body.id}`)
      .set(odile.headers)
      .send({ reason: 'Wren fell ill.' })
      .expect(200);
    const left = await api.post(`/api/v1/members/${wren.member.id}/leaving`).set(maren.headers);
    expect(left.status).toBeLessThan(300);
    const [row] = await database.query(
      'select s.note, e.reason, s.competence from sign_off s join sign_off_end e on e.sign_off_id = s.id where s.id = $1',
      [body.id],
    );
    expect(row).toEqual({ note: null, reason: null, competence: name });
  });
});

describe('the founding declaration', async () => {
  const fresh = await testDatabase();
  const newHouse = await testHouse(fresh, { at: NOW });
  const newApi = supertest(newHouse.url);

  it('is the founder’s, marked, once, and while nobody stewards', async () => {
    const founder = await signedInMember(newHouse, 'admin', []);
    const second = await signedInMember(newHouse, 'admin', []);
    const member = await signedInMember(newHouse, 'member', []);
    const declare = (headers: Headers, more: object = {}) =>
      newApi
        .post('/api/v1/signoffs/declaration')
        .set(headers)
        .send({ competences: ['press-operation', 'stewarding'], eighteenOrOlder: true, ...more });
    expect((await declare(member.headers)).status).toBe(403);
    expect(codesOf(await declare(founder.headers, { eighteenOrOlder: false }))).toEqual([
      'signoff-under-eighteen',
    ]);
    const made = signOffsReply.decode((await declare(founder.headers).expect(201)).body).items;
    expect(made.map(({ founding, competence: name }) => [name, founding]).sort()).toEqual([
      ['press-operation', true],
      ['stewarding', true],
    ]);
    const trail = await fresh.query(
      `select details ->> 'founding' as founding from audit_entry where action = 'founding-declaration'`,
    );
    expect(trail).toEqual([{ founding: 'true' }, { founding: 'true' }]);
    expect(codesOf(await declare(founder.headers))).toEqual(['founding-over']);
    expect(codesOf(await declare(second.headers))).toEqual(['founding-over']);
    await newApi
      .post('/api/v1/signoffs')
      .set(founder.headers)
      .send({ memberId: member.member.id, competence: 'press-operation', note: 'Did it.' })
      .expect(201);
  });

  it('is over for good: a founder whose sign-off was revoked is witnessed as everybody is', async () => {
    const again = await testDatabase();
    const fourthHouse = await testHouse(again, { at: NOW });
    const founder = await signedInMember(fourthHouse, 'admin', []);
    await transact(again, (tx) => declareAtFounding(tx, { memberId: founder.member.id, at: new Date(NOW) }));
    const steward = await signedInMember(fourthHouse, 'steward');
    await again.query(
      `insert into sign_off_end (sign_off_id, kind, ended_by, reason, ended_at)
       select id, 'revoked', $2, 'Tied the guard back.', $3 from sign_off where founding and member_id = $1`,
      [founder.member.id, steward.member.id, new Date(NOW)],
    );
    await again.query(`update member set state = 'suspended' where id = $1`, [steward.member.id]);
    fourthHouse.clock.turn(1);
    const reply = await supertest(fourthHouse.url)
      .post('/api/v1/signoffs/declaration')
      .set(founder.headers)
      .send({ competences: ['press-operation'], eighteenOrOlder: true });
    expect({ status: reply.status, codes: codesOf(reply) }).toEqual({
      status: 409,
      codes: ['founding-over'],
    });
  });

  it('comes with the founding of a house, for what every house begins with', async () => {
    const empty = await testDatabase();
    const thirdHouse = await testHouse(empty, { at: NOW });
    const founder = await makeMember(thirdHouse, 'admin', []);
    await transact(empty, (tx) => declareAtFounding(tx, { memberId: founder.id, at: new Date(NOW) }));
    const rows = await empty.query('select competence from sign_off where founding and member_id = $1', [
      founder.id,
    ]);
    expect(rows).toHaveLength(5);
  });
});
