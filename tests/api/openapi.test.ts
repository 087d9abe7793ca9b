import { Validator } from '@seriousme/openapi-schema-validator';
import type { OpenAPIV3_1 } from 'openapi-types';
import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { callsOf } from '../../server/http/api-sheet.js';
import { problem } from '../../server/http/problem.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { signedInMember } from '../support/sign-in.js';

const house = await testHouse(await testDatabase());
const reply = await supertest(house.url).get('/api/v1/openapi.json').expect(200);
const document = reply.body as OpenAPIV3_1.Document;
const calls = callsOf(document);
const asked = house.app.routeBook.filter(
  ({ url, method }) => url.startsWith('/api/v1/') && method !== 'HEAD',
);

/** Objects in a described body that would take any field besides their own. */
function looseObjects(described: unknown, at = 'body'): readonly string[] {
  if (typeof described !== 'object' || described === null) return [];
  const { $ref, type, additionalProperties } = described as { readonly [name: string]: unknown };
  if (typeof $ref === 'string') {
    return looseObjects(document.components?.schemas?.[$ref.split('/').at(-1) ?? ''], at);
  }
  const here = type === 'object' && additionalProperties === undefined ? [at] : [];
  return [
    ...here,
    ...Object.entries(described).flatMap(([name, inner]) => looseObjects(inner, `${at}.${name}`)),
  ];
}

describe('the description of the API', () => {
  it('is valid OpenAPI 3.1', async () => {
    const { valid, errors } = await new Validator().validate(
      structuredClone(document) as unknown as Record<string, unknown>,
    );
    expect(errors ?? []).toEqual([]);
    expect(valid).toBe(true);
    expect(document.openapi).toBe('3.1.0');
  });

  it('holds every call there is, and no other', () => {
    const described = calls.map(({ method, path }) => `${method} ${path}`).sort();
    const there = asked.map(({ method, url }) => `${method} ${url.replaceAll(/:(\w+)/g, '{$1}')}`).sort();
    expect(described).toEqual(there);
    expect(there.length).toBeGreaterThan(4);
  });

  it('says of every call what it is for, who may ask, and how it refuses', () => {
    for (const { summary, refusals, who, path, method } of calls) {
      expect([path, method, summary]).not.toContain('');
      expect([path, method, refusals.split(', ')]).toEqual([
        path,
        method,
        expect.arrayContaining(['400', '500']),
      ]);
      const isOpen = asked.find(
        (route) => route.method === method && route.url.replaceAll(/:(\w+)/g, '{$1}') === path,
      );
      expect([path, method, who]).toEqual([path, method, isOpen?.open === true ? 'anyone' : 'member']);
    }
  });

  it('takes no field that it does not describe, in any body', () => {
    const loose = Object.entries(document.paths ?? {}).flatMap(([path, item]) =>
      Object.entries(item ?? {}).flatMap(([method, call]) =>
        looseObjects((call as OpenAPIV3_1.OperationObject).requestBody).map(
          (at) => `${method} ${path} ${at}`,
        ),
      ),
    );
    expect(loose).toEqual([]);
  });

  it('refers to nothing that is not there, and keeps nothing that nobody refers to', () => {
    const names = Object.keys(document.components?.schemas ?? {});
    const used = [...JSON.stringify(document).matchAll(/#\/components\/schemas\/([^"]+)"/g)].map(
      ([, name]) => name,
    );
    expect([...new Set(used)].sort()).toEqual(names.sort());
  });
});

describe('every call answers as it is described', async () => {
  const nobody = '00000000-0000-4000-8000-000000000000';
  const { headers } = await signedInMember(house);
  // The one call that ends the session comes last.
  const inOrder = calls.toSorted(
    (a, b) => Number(a.path.endsWith('/session')) - Number(b.path.endsWith('/session')),
  );

  it.each(
    inOrder.flatMap(
      ({ method, path }) =>
        [
          [method, path, {}],
          [method, path, headers],
        ] as const,
    ),
  )('%s %s', async (method, path, given) => {
    const address = path.replaceAll(/\{\w+\}/g, nobody);
    const verb = method.toLowerCase() as 'get';
    const request = supertest(house.url)[verb](address).set(given);
    const { status, type } = await (method === 'GET' ? request : request.send({}));
    const operation = document.paths?.[path]?.[verb];
    expect(Object.keys(operation?.responses ?? {})).toContain(String(status));
    if (status >= 400) expect(type).toBe('application/problem+json');
  });
});

describe('an id that cannot be ours answers like one that is not there', async () => {
  const { headers } = await signedInMember(house, 'admin');
  const withId = calls.filter(({ method, path }) => method === 'GET' && path.includes('{id}'));
  const answerTo = async (path: string, id: string) => {
    const address = `${path.replaceAll('{id}', id).replaceAll(/\{\w+\}/g, '1')}?polymer=PP`;
    const { status, body } = await supertest(house.url).get(address).set(headers);
    return { status, codes: problem.parse(body).reasons.map(({ code }) => code) };
  };

  it.each(withId.map(({ path }) => [path]))('%s', async (path) => {
    const unknown = await answerTo(path, '00000000-0000-4000-8000-000000000000');
    expect(unknown).toEqual({ status: 404, codes: ['not-found'] });
    for (const id of [
      'x',
      '7',
      '%00',
      "'%20or%201=1--",
      'A'.repeat(150),
      '00000000-0000-4000-8000-00000000000G',
    ]) {
      expect([id, await answerTo(path, id)]).toEqual([id, unknown]);
    }
  });
});

it('the page lists every call', async () => {
  const { text } = await supertest(house.url).get('/api').expect(200);
  for (const { method, path } of calls) expect(text).toContain(`${method} ${path}`);
});
