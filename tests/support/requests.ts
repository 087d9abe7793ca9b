import supertest from 'supertest';
import { problem } from '../../server/http/problem.js';
import type { TestHouse } from './app.js';
import { TEST_PASSWORD, type TestMember } from './sign-in.js';

/** The codes of a problem document, in their order. */
export function codesOf(reply: { body: unknown }): readonly string[] {
  return problem.parse(reply.body).reasons.map(({ code }) => code);
}

type Fields = { readonly [name: string]: string };

/** A person with a browser: keeps cookies, fills forms of pages it has loaded, says where requests come from. */
export interface Visitor {
  get(path: string): supertest.Test;
  /** Loads `page`, takes the token of its form and sends `fields` to `action`. */
  submit(page: string, action: string, fields?: Fields): Promise<supertest.Response>;
  /** As `submit`, with the very form that the page has for it. */
  fill(page: string, action: string, fields?: Fields): Promise<supertest.Response>;
  /** Sends a form as it stands; `headers` over those of our own pages. */
  post(action: string, fields: Fields, headers?: Fields): supertest.Test;
  /** As `submit`, in a form that carries files. */
  upload(
    page: string,
    action: string,
    files: { readonly [name: string]: Buffer },
  ): Promise<supertest.Response>;
  /** Sends a form with files as it stands: each a name and what is in it, all in the field `dxf`. */
  send(
    action: string,
    fields: Fields,
    files: readonly (readonly [fileName: string, bytes: string | Buffer])[],
  ): Promise<supertest.Response>;
  signIn(member: TestMember): Promise<void>;
}

export function visitorOf(house: TestHouse): Visitor {
  const agent = supertest.agent(house.url);
  const post: Visitor['post'] = (action, fields, headers = {}) =>
    agent
      .post(action)
      .type('form')
      .set({ origin: house.url, 'sec-fetch-site': 'same-origin', ...headers })
      .send(fields);
  const submit: Visitor['submit'] = async (page, action, fields = {}) => {
    const { text } = await agent.get(page).expect(200);
    return post(action, { _csrf: formTokenOf(text), ...fields });
  };
  const fill: Visitor['fill'] = async (page, action, fields = {}) => {
    const { text } = await agent.get(page).expect(200);
    if (!text.includes(`action="${action}"`)) throw new Error(`${page} has no form that goes to ${action}.`);
    return post(action, { _csrf: formTokenOf(text), ...fields });
  };
  return {
    get: (path) => agent.get(path),
    post,
    submit,
    fill,
    async upload(page, action, files) {
      const { text } = await agent.get(page).expect(200);
      const sent = agent.post(action).set({ origin: house.url, 'sec-fetch-site': 'same-origin' });
      sent.field('_csrf', formTokenOf(text));
      for (const [name, bytes] of Object.entries(files)) sent.attach(name, bytes, `${name}.csv`);
      return sent;
    },
    async send(action, fields, files) {
      const sent = agent.post(action).set({ origin: house.url, 'sec-fetch-site': 'same-origin' });
      for (const [name, value] of Object.entries(fields)) sent.field(name, value);
      for (const [fileName, bytes] of files)
        sent.attach('dxf', Buffer.from(bytes as string, 'latin1'), fileName);
      return sent;
    },
    async signIn({ email }) {
      const reply = await submit('/sign-in', '/sign-in', { email, password: TEST_PASSWORD });
      if (reply.status !== 303) throw new Error(`Signing in answered ${reply.status}.`);
    },
  };
}

/** The token that a page's forms carry. */
export function formTokenOf(html: string): string {
  const token = /name="_csrf" value="([^"]+)"/.exec(html)?.[1];
  if (token === undefined) throw new Error('The page has no form with a token.');
  return token;
}
