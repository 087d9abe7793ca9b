import type { z } from 'zod';

const KINDS: { readonly [kind: string]: string } = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'an object',
  array: 'a list',
  date: 'a date',
};

const FORMATS: { readonly [format: string]: string } = {
  datetime: 'Give an instant with its offset, for instance 2026-11-26T14:00:00Z.',
  date: 'Give a day, for instance 2026-11-26.',
  uuid: 'Give an id as this service hands them out.',
  email: 'Give an e-mail address.',
};

/**
 * What is wrong with a field, where its schema has no sentence of its own; nothing for what only the schema can
 * say. Of fields that nobody knows, a line for each.
 */
export function wordIssue(issue: z.core.$ZodRawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type':
      if (issue.input === undefined) return 'Give it; it is missing.';
      return `Give ${KINDS[issue.expected] ?? issue.expected}.`;
    case 'too_small':
      return `Give at least ${amount(issue.minimum, issue.origin)}.`;
    case 'too_big':
      return `Give at most ${amount(issue.maximum, issue.origin)}.`;
    case 'invalid_format':
      return FORMATS[issue.format] ?? 'Give it in the form that is described.';
    case 'invalid_value':
      return `Give ${issue.values.map(String).join(' or ')}.`;
    case 'invalid_union':
      return 'Give it in one of the forms that are described.';
    case 'unrecognized_keys':
      return issue.keys.map((key) => unknownField(key, fieldsOf(issue.inst))).join('\n');
    default:
      return undefined;
  }
}

function amount(count: number | bigint, origin: string): string {
  if (origin === 'string') return `${count} ${count === 1 ? 'character' : 'characters'}`;
  return origin === 'array' ? `${count} of them` : String(count);
}

function unknownField(key: string, known: readonly string[]): string {
  const meant = nearest(key, known);
  return meant === undefined ? 'It is not known here.' : `It is not known here: is “${meant}” meant?`;
}

function fieldsOf(schema: unknown): readonly string[] {
  const { shape } = (schema as { readonly shape?: object }) ?? {};
  return Object.keys(shape ?? {});
}

/** The known name that a mistyped one is near to: a part left out or added, or a few letters wrong. */
function nearest(key: string, known: readonly string[]): string | undefined {
  const written = key.toLowerCase();
  const near = known
    .map((name) => ({ name, away: distance(written, name.toLowerCase()) }))
    .filter(({ name, away }) => away <= 2 || begins(written, name.toLowerCase()))
    .sort((one, other) => one.away - other.away);
  return near[0]?.name;
}

function begins(one: string, other: string): boolean {
  return Math.min(one.length, other.length) > 3 && (one.startsWith(other) || other.startsWith(one));
}

/** Letters to put in, take out or change to make one word the other (V. I. Levenshtein, 1966). */
function distance(one: string, other: string): number {
  let above = Array.from({ length: other.length + 1 }, (_, i) => i);
  for (const [i, letter] of [...one].entries()) {
    const row = [i + 1];
    for (let j = 0; j < other.length; j += 1) {
      const changed = (above[j] ?? 0) + (letter === other[j] ? 0 : 1);
      row.push(Math.min(changed, (above[j + 1] ?? 0) + 1, (row[j] ?? 0) + 1));
    }
    above = row;
  }
  return above[other.length] ?? 0;
}
