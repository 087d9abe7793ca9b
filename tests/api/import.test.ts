import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { type MemberTable, readMemberTable } from '../../server/members/member-table.js';
import { Refusal } from '../../server/reasons.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { codesOf, formTokenOf, visitorOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const api = supertest(house.url);
const admin = await signedInMember(house, 'admin');

const importing = (csv: string, more: object = {}) =>
  api
    .post('/api/v1/invitations/import')
    .set(admin.headers)
    .send({ csv, ...more });

function read(text: string | Uint8Array): MemberTable | string {
  const table = readMemberTable(typeof text === 'string' ? Buffer.from(text) : text);
  return table instanceof Refusal ? String(table.reasons[0].figures?.detail) : table;
}

describe('a table of members', () => {
  it.each([
    ['commas', 'name,email\nWren,wren@x.example\n'],
    ['semicolons, as spreadsheets of half of Europe write', 'name;email\r\nWren;wren@x.example\r\n'],
    ['tabs', 'name\temail\nWren\twren@x.example'],
    ['a mark of byte order', '\uFEFFname,email\nWren,wren@x.example'],
    ['other headings, other order, more columns', 'Since,E-Mail,Display name\n2019,WREN@x.example, Wren '],
    ['empty lines', '\n\nname,email\n\nWren,wren@x.example\n\n'],
  ])('is read with %s', (_name, text) => {
    const table = read(text);
    expect(table).toMatchObject({
      lines: [{ displayName: 'Wren', email: 'wren@x.example', role: 'member' }],
      faults: [],
    });
  });

  it('tells of each line that is left out, by its number, and keeps the rest', () => {
    const text = [
      'name,email,role',
      'Wren,wren@x.example,',
      ',nobody@x.example,',
      'No address,,',
      'Odile,odile at x,',
      'Maren,MAREN@x.example,Steward',
      'Twice,wren@X.example,',
      'Kofi,kofi@x.example,owner',
      `${'x'.repeat(61)},long@x.example,`,
      'Nul\u0000,nul@x.example,',
      '"Quoted, of\nthree\nlines",quoted@x.example,',
      'Last,last@x.example,admin',
      'Short',
    ].join('\n');
    expect(read(text)).toEqual({
      lines: [
        { line: 2, displayName: 'Wren', email: 'wren@x.example', role: 'member' },
        { line: 6, displayName: 'Maren', email: 'maren@x.example', role: 'steward' },
        { line: 13, displayName: 'Quoted, of\nthree\nlines', email: 'quoted@x.example', role: 'member' },
        { line: 14, displayName: 'Last', email: 'last@x.example', role: 'admin' },
      ],
      faults: [
        { line: 3, code: 'name-missing', given: '' },
        { line: 4, code: 'email-missing', given: '' },
        { line: 5, code: 'email-wrong', given: 'odile at x' },
        { line: 7, code: 'said-before', given: 'wren@x.example', firstLine: 2 },
        { line: 8, code: 'role-unknown', given: 'owner' },
        { line: 9, code: 'name-too-long', given: 'x'.repeat(61) },
        { line: 10, code: 'not-storable', given: '' },
        { line: 15, code: 'email-missing', given: '' },
      ],
    });
  });

  it.each([
    ['nothing', '', 'there is nothing in it'],
    ['only blanks', ' \n \n', 'there is nothing in it'],
    ['no headings', 'Wren,wren@x.example', 'the first line names no column “name”'],
    ['no addresses', 'name,phone\nWren,1', 'the first line names no column “email”'],
    [
      'an open quotation mark',
      'name,email\n"Wren,wren@x.example\nOdile,o@x.example',
      'a quotation mark near line 3 has no partner',
    ],
    ['a line without end', `name,email\n${'x'.repeat(100_000)}`, 'line 2 is far too long'],
    [
      'too many lines',
      `name,email\n${'Wren,wren@x.example\n'.repeat(10_001)}`,
      'it has more than 10000 lines',
    ],
    [
      'Latin 1',
      Buffer.from('name,email\nWren,w@x.example\nSeán,s@x.example\n', 'latin1'),
      'line 3 is not in UTF-8',
    ],
    ['UTF-16', Buffer.from('\uFEFFname,email\nWren,wren@x.example', 'utf16le'), 'line 1 is not in UTF-8'],
    ['more than fits', Buffer.alloc(2 * 1024 * 1024 + 1, 'x'), 'it is larger than 2 MiB'],
    ['a picture', Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex'), 'line 1 is not in UTF-8'],
  ])('of %s is refused as a whole', (_name, bytes, told) => {
    expect(read(bytes)).toBe(told);
  });
});

describe('importing members', () => {
  it('invites every good line and tells of the others; members already here are left out', async () => {
    const known = await makeMember(house);
    const csv = `name,email\nNuria,nuria@x.example\nKnown,${known.email.toUpperCase()}\nPetra,petra`;
    const dry = await importing(csv, { dryRun: true }).expect(200);
    expect(dry.body).toMatchObject({ invited: [], wouldInvite: 1 });
    expect(await database.query(`select from one_time_link where email = 'nuria@x.example'`)).toHaveLength(0);
    const { body } = await importing(csv).expect(200);
    expect(body.leftOut.map(({ line, code }: { line: number; code: string }) => [line, code])).toEqual([
      [3, 'member-already'],
      [4, 'email-wrong'],
    ]);
    const [nuria] = body.invited;
    const token = new URL(nuria.link).pathname.split('/').at(-1);
    const password = 'slate heron under wet roof';
    await api.post('/api/v1/invitations/use').send({ token, displayName: 'Nuria', password }).expect(201);
  });

  it('is an admin’s', async () => {
    const csv = 'name,email\nNuria,nuria2@x.example';
    for (const role of ['member', 'steward'] as const) {
      const { headers } = await signedInMember(house, role);
      const reply = await api.post('/api/v1/invitations/import').set(headers).send({ csv });
      expect([reply.status, codesOf(reply)]).toEqual([403, ['not-allowed']]);
    }
  });

  it('takes 10,000 lines at once, a link for each', async () => {
    const lines = Array.from({ length: 10_000 }, (_, i) => `Member ${i},member-${i}@many.example`);
    const { body } = await importing(`name,email\n${lines.join('\n')}`).expect(200);
    expect(body.wouldInvite).toBe(10_000);
    expect(new Set(body.invited.map(({ link }: { link: string }) => link)).size).toBe(10_000);
    const last = body.invited.at(-1);
    expect(last).toMatchObject({ line: 10_001, email: 'member-9999@many.example' });
    const [row] = await database.query<{ email: string }>(
      'select email from one_time_link where token_hash = $1',
      [await hashOf(new URL(last.link).pathname.split('/').at(-1) ?? '')],
    );
    expect(row?.email).toBe('member-9999@many.example');
  });
});

async function hashOf(token: string): Promise<string> {
  const { hashOfToken } = await import('../../server/members/one-time-link.js');
  return hashOfToken(token);
}

describe('on sheets', () => {
  const upload = (visitor: ReturnType<typeof visitorOf>, csv: string | Buffer) =>
    visitor.upload('/members/import', '/members/import', { table: Buffer.from(csv) });
  const asAdmin = async () => {
    const visitor = visitorOf(house);
    await visitor.signIn(admin.member);
    return visitor;
  };

  it('a table is looked at first; then the links come as a file that no spreadsheet takes for formulas', async () => {
    const visitor = await asAdmin();
    const csv =
      'name,email\n"=HYPERLINK(""http://x"",""y"")",formula@x.example\n@sum(a),at@x.example\n-1+1,minus@x.example\nSeán,sean@x.example\nBad,bad';
    const seen = await upload(visitor, csv);
    expect(seen.status).toBe(200);
    expect(seen.text).toContain('“bad” is not an e-mail address.');
    expect(await database.query(`select from one_time_link where email = 'sean@x.example'`)).toHaveLength(0);
    const carried = /name="table" value="([\w-]+)"/.exec(seen.text)?.[1] ?? '';
    const file = await visitor.post('/members/import/links', {
      _csrf: formTokenOf(seen.text),
      table: carried,
    });
    expect(file.status).toBe(200);
    expect(file.headers).toMatchObject({
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': 'attachment; filename="invitations.csv"',
      'cache-control': 'no-store',
    });
    const [, ...lines] = file.text.replace('\uFEFF', '').trim().split('\n');
    expect(lines).toHaveLength(4);
    for (const line of lines) {
      for (const cell of line.split(',')) expect(cell).not.toMatch(/^"?[=+\-@\t\r]/);
    }
    expect(lines[3]).toMatch(/^Seán,sean@x\.example,member,http:/);
  });

  it('says what keeps a file from being read', async () => {
    const visitor = await asAdmin();
    const wrong = await upload(visitor, Buffer.from('name,email\nSeán,s@x.example', 'latin1'));
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('line 2 is not in UTF-8');
    const none = await upload(visitor, '');
    expect(none.status).toBe(422);
    const _csrf = formTokenOf((await visitor.get('/members/import')).text);
    expect((await visitor.post('/members/import/links', { _csrf, table: 'no such thing' })).status).toBe(400);
  });
});
