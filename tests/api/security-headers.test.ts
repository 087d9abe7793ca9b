import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';

const house = await testHouse(await testDatabase());
const site = supertest(house.url);

const POLICY = [
  "default-src 'self'",
  "script-src-attr 'none'",
  "style-src-attr 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
  "object-src 'none'",
  "base-uri 'none'",
];

describe('every answer', () => {
  it.each([
    ['a page', '/', 200],
    ['the API', '/api/v1/bolsters', 200],
    ['a problem', '/api/v1/me', 401],
    ['a page that is not there', '/nowhere', 404],
    ['an address that cannot be read', '/%zz', 404],
    ['a style sheet', '/assets/styles/parts.css', 200],
  ])('keeps strangers out: %s', async (_name, path, status) => {
    const { headers } = await site.get(path).expect(status);
    expect(headers['content-security-policy']?.split(';')).toEqual(POLICY);
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['referrer-policy']).toBe('same-origin');
    expect(headers['content-type']).toMatch(/charset=utf-8$/);
    expect(headers).not.toHaveProperty('access-control-allow-origin');
    expect(headers).not.toHaveProperty('x-powered-by');
  });

  it('says nothing of https where there is none', async () => {
    const { headers } = await site.get('/').expect(200);
    expect(headers).not.toHaveProperty('strict-transport-security');
    expect(headers['content-security-policy']).not.toContain('upgrade');
  });
});

describe('what may be kept', () => {
  it('files by their versioned address, for good', async () => {
    const page = await site.get('/').expect(200);
    const [address = ''] = /\/assets\/styles\/parts\.css\?v[^"]+/.exec(page.text) ?? [];
    const { headers } = await site.get(address.replace('&#x3D;', '=')).expect(200);
    expect(headers['cache-control']).toBe('public, max-age=31536000, immutable');
  });

  it.each([
    ['/assets/styles/parts.css', 200, 'public, max-age=3600'],
    ['/assets/nowhere.css?v=1', 404, 'no-store'],
    ['/api/v1/bolsters', 200, 'no-store'],
    ['/', 200, 'no-cache'],
    ['/health/live', 200, 'no-store'],
  ])('%s', async (path, status, kept) => {
    const { headers } = await site.get(path).expect(status);
    expect(headers['cache-control']).toBe(kept);
  });

  it('nothing outside the public folder', async () => {
    for (const path of [
      '/assets/../package.json',
      '/assets/%2e%2e/package.json',
      '/assets/..%2fpackage.json',
    ]) {
      const { status, text } = await site.get(path);
      expect([path, status]).toEqual([path, 404]);
      expect(text).not.toContain('"dependencies"');
    }
  });
});

describe('pages without a script or a style in them', () => {
  it.each(['/', '/cautions', '/sign-in', '/api', '/problems', '/nowhere'])('%s', async (path) => {
    const { text } = await site.get(path);
    expect(text).not.toMatch(/<script(?![^>]*\bsrc=)|<style|\sstyle=|\son\w+=|javascript:/i);
  });
});

describe('health', () => {
  it('is told to anybody', async () => {
    expect((await site.get('/health/live').expect(200)).body).toEqual({ live: true });
    expect((await site.get('/health/ready').expect(200)).body).toEqual({ ready: true });
  });

  it('is not ready while the database does not answer, and alive all the same', async () => {
    const { query } = house.database;
    house.database.query = async () => {
      throw new Error('no database');
    };
    const ready = await site.get('/health/ready');
    const live = await site.get('/health/live');
    const page = await site.get('/');
    house.database.query = query;
    expect([ready.status, ready.body]).toEqual([503, { ready: false }]);
    expect(live.status).toBe(200);
    expect(page.status).toBe(500);
    expect(page.text).toContain('What to do');
  });
});
