import type { OpenAPIV3_1 } from 'openapi-types';

type Schema = OpenAPIV3_1.SchemaObject | OpenAPIV3_1.ReferenceObject;

export interface FieldRow {
  /** Dotted path; `[]` after a list. */
  readonly name: string;
  readonly type: string;
  readonly needed: boolean;
  readonly note: string;
}

export interface CallView {
  readonly id: string;
  readonly method: string;
  readonly path: string;
  readonly summary: string;
  readonly who: 'anyone' | 'member';
  readonly parameters: readonly (FieldRow & { readonly place: string })[];
  readonly body: { readonly media: string; readonly fields: readonly FieldRow[] } | undefined;
  readonly answers: readonly {
    readonly status: string;
    readonly media: string;
    readonly fields: readonly FieldRow[];
  }[];
  readonly refusals: string;
}

const METHODS = ['get', 'post', 'put', 'patch', 'delete'] as const;

/** Deeper than this a field's own fields are not listed; the document has them. */
const DEPTH_MAX = 5;

/** The calls of an OpenAPI document as a person reads them, in the document's order. */
export function callsOf(document: OpenAPIV3_1.Document): readonly CallView[] {
  return Object.entries(document.paths ?? {}).flatMap(([path, item]) =>
    METHODS.flatMap((method) => {
      const operation = item?.[method];
      return operation === undefined ? [] : [callOf(document, method, path, operation)];
    }),
  );
}

function callOf(
  document: OpenAPIV3_1.Document,
  method: string,
  path: string,
  operation: OpenAPIV3_1.OperationObject,
): CallView {
  const answers = Object.entries(operation.responses ?? {});
  const isRefusal = (status: string) => Number(status) >= 400;
  return {
    id: `${method}${path.replaceAll(/[^a-z0-9]+/gi, '-')}`,
    method: method.toUpperCase(),
    path,
    summary: operation.summary ?? '',
    who: operation.security?.some((way) => Object.keys(way).length === 0) === true ? 'anyone' : 'member',
    parameters: (operation.parameters ?? []).flatMap((parameter) =>
      '$ref' in parameter ? [] : [parameterRow(document, parameter)],
    ),
    body: bodyOf(document, operation.requestBody),
    answers: answers
      .filter(([status]) => !isRefusal(status))
      .map(([status, answer]) => ({ status, ...contentOf(document, answer) })),
    refusals: answers
      .map(([status]) => status)
      .filter(isRefusal)
      .join(', '),
  };
}

function parameterRow(document: OpenAPIV3_1.Document, parameter: OpenAPIV3_1.ParameterObject) {
  const schema = (parameter.schema ?? {}) as Schema;
  return {
    name: parameter.name,
    place: parameter.in,
    type: typeText(document, schema),
    needed: parameter.required === true,
    note: parameter.description ?? noteOf(resolved(document, schema)),
  };
}

function bodyOf(
  document: OpenAPIV3_1.Document,
  body: OpenAPIV3_1.OperationObject['requestBody'],
): CallView['body'] {
  if (body === undefined || '$ref' in body) return undefined;
  const { fields } = contentOf(document, { description: '', content: body.content });
  return { media: Object.keys(body.content).join(', '), fields };
}

function contentOf(
  document: OpenAPIV3_1.Document,
  answer: OpenAPIV3_1.ResponseObject | OpenAPIV3_1.ReferenceObject,
): { readonly media: string; readonly fields: readonly FieldRow[] } {
  const [first] = '$ref' in answer ? [] : Object.entries(answer.content ?? {});
  if (first === undefined) return { media: 'nothing', fields: [] };
  const [media, { schema }] = first;
  return { media, fields: schema === undefined ? [] : fieldsOf(document, schema as Schema, '', 0) };
}

/** Every field of a schema, one row each, nested ones by a dotted path. */
function fieldsOf(
  document: OpenAPIV3_1.Document,
  given: Schema,
  prefix: string,
  depth: number,
): readonly FieldRow[] {
  const schema = resolved(document, given);
  if (depth > DEPTH_MAX) return [];
  if (schema.type === 'array' && schema.items !== undefined)
    return fieldsOf(document, schema.items, `${prefix}[]`, depth);
  const branches = schema.anyOf ?? schema.oneOf ?? schema.allOf;
  if (branches !== undefined) return branches.flatMap((branch) => fieldsOf(document, branch, prefix, depth));
  return Object.entries(schema.properties ?? {}).flatMap(([name, property]) => {
    const path = prefix === '' ? name : `${prefix}.${name}`;
    const row = {
      name: path,
      type: typeText(document, property),
      needed: schema.required?.includes(name) === true,
      note: noteOf(resolved(document, property)),
    };
    return [row, ...fieldsOf(document, property, path, depth + 1)];
  });
}

function typeText(document: OpenAPIV3_1.Document, given: Schema): string {
  const schema = resolved(document, given);
  const branches = schema.anyOf ?? schema.oneOf;
  if (branches !== undefined)
    return [...new Set(branches.map((branch) => typeText(document, branch)))].join(' or ');
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  if (schema.enum !== undefined) return schema.enum.map((value) => JSON.stringify(value)).join(' or ');
  if (schema.type === 'array') return `list of ${typeText(document, schema.items ?? {})}`;
  const name = [schema.type ?? 'anything'].flat().join(' or ');
  return schema.format === 'date-time' ? 'instant' : name;
}

function noteOf(schema: OpenAPIV3_1.SchemaObject): string {
  const bounds = [
    schema.minimum !== undefined &&
      Math.abs(schema.minimum) < Number.MAX_SAFE_INTEGER &&
      `at least ${schema.minimum}`,
    schema.maximum !== undefined &&
      Math.abs(schema.maximum) < Number.MAX_SAFE_INTEGER &&
      `at most ${schema.maximum}`,
    schema.maxLength !== undefined && `at most ${schema.maxLength} characters`,
    schema.default !== undefined && `${JSON.stringify(schema.default)} when left out`,
  ].filter((bound) => bound !== false);
  return [schema.description, bounds.join(', ')].filter(Boolean).join(' ');
}

function resolved(document: OpenAPIV3_1.Document, schema: Schema): OpenAPIV3_1.SchemaObject {
  if (!('$ref' in schema) || schema.$ref === undefined) return schema as OpenAPIV3_1.SchemaObject;
  const name = schema.$ref.split('/').at(-1) ?? '';
  return (document.components?.schemas?.[name] ?? {}) as OpenAPIV3_1.SchemaObject;
}
