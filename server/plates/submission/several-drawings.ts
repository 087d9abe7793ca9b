import type { FastifyRequest } from 'fastify';
import { takesFiles } from '../../http/uploads.js';
import { nameOfFile } from '../../words/en/plates.js';
import { fieldsOf, unpacked } from '../plate-form.js';
import { type DrawingFile, safeFileName } from '../uploaded-drawing.js';

/** Read at once: as many as are looked at on one sheet, and two of them take no longer than a breath. */
export const DRAWINGS_MAX = 8;

/** Facts for all, and of each drawing its file as carried along, the file's name, the plate's and a note. */
const FIELDS_MAX = 30 + 4 * DRAWINGS_MAX;

/** The `config` of the route: one file more than is read, so that there being too many can be told. */
export const takesDrawings = takesFiles({ filesMax: 2 * DRAWINGS_MAX, fieldsMax: FIELDS_MAX });

/** One drawing of several, with the name wished for its plate and what is to be said about it. */
export interface SeveralDrawing {
  readonly name: string;
  readonly note: string;
  readonly fileName: string;
  /** Null where the file was too large or did not come along. */
  readonly drawing: DrawingFile | null;
  readonly tooLarge: boolean;
}

/** The drawings of a form: those carried along from the sheet before, then those chosen now. */
export async function severalDrawings(
  request: FastifyRequest,
): Promise<{ readonly drawings: readonly SeveralDrawing[]; readonly tooMany: boolean }> {
  const chosen = request.uploads
    .filter(
      ({ field, bytes, fileName, tooLarge }) =>
        field === 'dxf' && (tooLarge || bytes.length > 0 || fileName !== ''),
    )
    .map(({ bytes, fileName: given, tooLarge }): SeveralDrawing => {
      const fileName = safeFileName(given);
      return {
        name: nameOfFile(fileName),
        note: '',
        fileName,
        tooLarge,
        drawing: tooLarge ? null : { bytes, fileName },
      };
    });
  const all = [...(await carried(request.body)), ...chosen];
  return { drawings: all.slice(0, DRAWINGS_MAX), tooMany: all.length > DRAWINGS_MAX };
}

async function carried(body: unknown): Promise<readonly SeveralDrawing[]> {
  const fields = fieldsOf(body);
  const found: SeveralDrawing[] = [];
  for (let i = 0; i < DRAWINGS_MAX; i++) {
    const given = fields[`fileName-${i}`];
    if (given === undefined) continue;
    const fileName = safeFileName(given);
    const packed = fields[`drawing-${i}`] ?? '';
    const bytes = packed === '' ? undefined : await unpacked(packed);
    const name = fields[`name-${i}`] ?? nameOfFile(fileName);
    found.push({
      name,
      note: fields[`note-${i}`] ?? '',
      fileName,
      tooLarge: false,
      drawing: bytes === undefined ? null : { bytes, fileName },
    });
  }
  return found;
}
