import { join } from 'node:path';
import Fastify from 'fastify';
import { describe, expect, it } from 'vitest';
import { SafeHtml } from '../../server/pictures/safe-html.js';
import { registerViews, renderer, type SheetContext } from '../../server/views.js';

const options = {
  templatesFolder: join(import.meta.dirname, '../../templates'),
  publicFolder: join(import.meta.dirname, '../../public'),
  assetsPrefix: '/assets/',
  cached: true,
};

const sheet: SheetContext = {
  title: 'Not <here>',
  place: 'Gullwing Yard',
  current: 'week',
  member: null,
  csrfToken: 'token',
  titleBlock: [{ label: 'Sheet', value: 'Error & more', href: '/x' }],
};

const errorPage = {
  ...sheet,
  what: 'Nothing <b>is</b> kept at this address.',
  todo: ['Look in the list.'],
  links: [],
};

describe('the sheet around every page', () => {
  const { page, partial } = renderer(options);
  const html = page('error', errorPage as SheetContext);

  it('escapes whatever text it is given', () => {
    expect(html).toContain('<title>Not &lt;here&gt; · Platenshare</title>');
    expect(html).toContain('Nothing &lt;b&gt;is&lt;/b&gt; kept');
    expect(html).toContain('<a href="/x">Error &amp; more</a>');
  });

  it('marks the current link once in the row and once under Sheets', () => {
    expect(html.match(/href="\/week" aria-current="page"/g)).toHaveLength(2);
    expect(html.match(/aria-current/g)).toHaveLength(2);
  });

  it('has no inline script, style or style attribute', () => {
    expect(html).not.toMatch(/<style|style=|<script(?![^>]*src=)|\son[a-z]+=/);
  });

  it('offers to sign in, or says who is signed in', () => {
    expect(html).toContain('<a href="/sign-in">Sign in</a>');
    const signedIn = page('error', {
      ...errorPage,
      member: { displayName: 'Wren <3', role: 'member' },
    } as SheetContext);
    expect(signedIn).toContain('<a href="/account">Signed in as Wren &lt;3</a>');
  });

  it('lets markup through only as SafeHtml', () => {
    const finding = { verdict: 'stop', name: 'Daylight', small: '', sentence: '', facts: [], cures: [] };
    expect(() => partial('finding', { ...finding, gauge: '<svg></svg>' })).toThrow(TypeError);
    expect(partial('finding', { ...finding, gauge: new SafeHtml('<svg></svg>') })).toContain('<svg></svg>');
  });

  it('comes out of the application as it does out of the renderer', async () => {
    const app = Fastify();
    await registerViews(app, options);
    app.get('/', (_request, reply) => reply.view('error', errorPage));
    const answer = await app.inject('/');
    expect(answer.statusCode).toBe(200);
    expect(answer.body).toBe(html);
    await app.close();
  });
});
