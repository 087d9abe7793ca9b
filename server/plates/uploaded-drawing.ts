import type { FastifyRequest } from 'fastify';

/** A drawing as it came: its bytes and the name its file had. */
export interface DrawingFile {
  readonly bytes: Uint8Array;
  readonly fileName: string;
}

const FILE_NAME_LENGTH_MAX = 120;

/** Files of this request, kept beside the body: what is stored and given back are the very bytes that came. */
const files = new WeakMap<FastifyRequest, DrawingFile>();

/** Body fields that are numbers when they stand in a form, where everything is text. */
const NUMBER = /(?:Mm|Deg)$/;

/** Body fields that stand in a form as JSON. */
const JSON_FIELDS: ReadonlySet<string> = new Set(['plate', 'screw', 'cutters', 'screwGroups']);

/**
 * A `preValidation` hook for routes that take a plate as JSON or as a form with the file `dxf`: a form becomes
 * the same body that JSON would be. `screw.size` and the like name fields inside `screw`; `plate` may be JSON.
 */
export async function readPlateForm(request: FastifyRequest): Promise<void> {
  if (!request.isMultipart()) return;
  const form = request.body as { readonly [field: string]: unknown };
  const { dxf, ...fields } = form;
  if (dxf instanceof Uint8Array) {
    files.set(request, { bytes: dxf, fileName: safeFileName(request.uploadNames.get('dxf')) });
  }
  const body: { [field: string]: unknown } = {};
  for (const [field, value] of Object.entries(fields)) {
    if (typeof value === 'string' && value !== '') place(body, field, value);
  }
  request.body = { ...unwrapped(body), ...(dxf !== undefined && { dxf: 'as uploaded' }) };
}

/** The uploaded drawing of a request, or the one in its JSON body. */
export function drawingFileOf(request: FastifyRequest, dxf: string, name: string): DrawingFile {
  return files.get(request) ?? { bytes: Buffer.from(dxf), fileName: safeFileName(`${name}.dxf`) };
}

/** A file name that can stand in a header and on any disk: no path, no control or reserved characters. */
export function safeFileName(name: string | undefined): string {
  const [last = ''] = (name ?? '').split(/[/\\]/).slice(-1);
  const plain = last.replace(/[\p{Cc}\p{Cs}"*:<>?|;%]/gu, '').trim();
  const stem = plain
    .replace(/\.dxf$/i, '')
    .slice(0, FILE_NAME_LENGTH_MAX)
    .replace(/^\.+/, '')
    .trim();
  return `${stem === '' ? 'plate' : stem}.dxf`;
}

function place(body: { [field: string]: unknown }, field: string, text: string): void {
  const [outer = '', inner] = field.split('.');
  const value = NUMBER.test(field) ? numberIn(text) : text;
  if (inner === undefined) body[outer] = JSON_FIELDS.has(outer) ? parsedOr(text) : value;
  else body[outer] = { ...(typeof body[outer] === 'object' ? body[outer] : {}), [inner]: value };
}

const WRITTEN = /^([-\u2212]?)(\d+(?:[.,]\d*)?|[.,]\d+)\s*(?:mm|°)?$/i;

/** A length or an angle as people write it, with a point or a comma, its unit after it or not; anything else stays text, to be refused. */
export function numberIn(text: string): number | string {
  const [, sign, digits] = WRITTEN.exec(text.trim()) ?? [];
  if (digits === undefined) return text;
  return Number(digits.replace(',', '.')) * (sign === '' ? 1 : -1);
}

function parsedOr(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}

function unwrapped({ plate, ...body }: { readonly [field: string]: unknown }): object {
  return typeof plate === 'object' && plate !== null ? { ...plate, ...body } : body;
}
