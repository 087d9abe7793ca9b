import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { signOffReply } from '../../server/inductions/schemas.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { askForWitness } from '../support/inductions.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');

function sign(memberId: string, more: object = {}) {
  const body = { memberId, competence: 'granulator', note: 'Did all of it.', ...more };
  return api.post('/api/v1/signoffs').set(odile.headers).send(body);
}

/** A new member, signed off for the granulator. */
async function signedOff(more: object = {}) {
  const member = await makeMember(house, 'member', []);
  return { member, signOff: signOffReply.decode((await sign(member.id, more).expect(201)).body) };
}

async function checklistOf(competence: string): Promise<readonly string[]> {
  const { body } = await api.get(`/api/v1/competences/${competence}`).set(odile.headers).expect(200);
  return body.checklist;
}

async function sentenceOf(signOffId: string): Promise<string> {
  const trail = await api.get(`/api/v1/trail?subjectKind=sign-off&subjectId=${signOffId}`).set(odile.headers);
  return trail.body.items[0].sentence;
}

async function historyOf(memberId: string): Promise<string> {
  const steward = visitorOf(house);
  await steward.signIn(odile.member);
  return (await steward.get(`/inductions/history/${memberId}`).expect(200)).text;
}

describe('signing off without the checklist', () => {
  it('is said in the trail and the history, with what was seen', async () => {
    const { member, signOff } = await signedOff({ note: 'Cleared a jam before my eyes.' });
    expect(await sentenceOf(signOff.id)).toContain('without the checklist on record');
    const history = await historyOf(member.id);
    expect(history).toContain('without the checklist on record');
    expect(history).toContain('Cleared a jam before my eyes.');
  });

  it('is not said of one with the whole checklist, which needs no note', async () => {
    const more = { note: null, witnessed: await checklistOf('granulator') };
    const { member, signOff } = await signedOff(more);
    expect(await sentenceOf(signOff.id)).not.toContain('checklist');
    expect(await historyOf(member.id)).not.toContain('checklist');
  });

  it.each([
    ['no note', { note: undefined }, 400, 'field-invalid'],
    ['an empty note', { note: null }, 400, 'field-invalid'],
    ['a blank note', { note: '  ' }, 400, 'field-invalid'],
    ['a part of the checklist', { witnessed: ['Cleared a jam'] }, 422, 'checklist-unfinished'],
  ])('with %s is refused', async (_what, more, status, code) => {
    const { id } = await makeMember(house, 'member', []);
    const reply = await sign(id, more);
    expect([reply.status, codesOf(reply)]).toEqual([status, [code]]);
    expect(await database.query('select from sign_off where member_id = $1', [id])).toEqual([]);
  });

  it('answers the request that it names, when that is open', async () => {
    const { member, headers } = await signedInMember(house, 'member', []);
    const requestId = await askForWitness(house, headers, 'granulator');
    const other = await makeMember(house, 'member', []);
    expect(codesOf(await sign(other.id, { requestId }))).toEqual(['witness-not-asked']);
    await sign(member.id, { requestId }).expect(201);
    const [request] = await database.query('select outcome from witness_request where id = $1', [requestId]);
    expect(request).toEqual({ outcome: 'signed-off' });
  });

  it('says in the description of the API what leaving out the statement of age means', async () => {
    const { body } = await api.get('/api/v1/openapi.json').expect(200);
    const { eighteenOrOlder } = body.components.schemas.NewSignOffInput.properties;
    expect(eighteenOrOlder.default).toBe(true);
    expect(eighteenOrOlder.description).toContain('Under-eighteens are never operators');
  });
});
