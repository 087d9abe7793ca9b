import fastifyMultipart from '@fastify/multipart';
import type { FastifyInstance } from 'fastify';
import { DRAWING_BYTES_MAX } from './dxf-text.js';

/** A file of a form as it came. */
export interface Upload {
  /** Name of the form's field. */
  readonly field: string;
  /** As the sender gave it, or nothing. */
  readonly fileName: string;
  /** Empty where it was too large to be read. */
  readonly bytes: Uint8Array;
  readonly tooLarge: boolean;
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Files of a multipart form in the order in which they came, those too large among them. */
    uploads: readonly Upload[];
    /** Names of uploaded files as the sender gave them, by field; the body holds only their bytes. */
    uploadNames: ReadonlyMap<string, string>;
  }
}

const FIELDS_MAX = 30;

/** A field may carry a packed drawing from one sheet to the next. */
const FIELD_BYTES_MAX = 8 * 1024 * 1024;

/** Multipart forms: fields and one file's bytes become the body, read before it is validated. */
export async function readUploads(app: FastifyInstance): Promise<void> {
  const uploads = new WeakMap<object, Upload[]>();
  app.decorateRequest('uploads', {
    getter() {
      return uploads.get(this) ?? [];
    },
  });
  app.decorateRequest('uploadNames', {
    getter() {
      return new Map((uploads.get(this) ?? []).map(({ field, fileName }) => [field, fileName]));
    },
  });
  await app.register(fastifyMultipart, {
    attachFieldsToBody: 'keyValues',
    limits: {
      fileSize: DRAWING_BYTES_MAX,
      files: 1,
      fields: FIELDS_MAX,
      parts: FIELDS_MAX + 1,
      fieldSize: FIELD_BYTES_MAX,
    },
    async onFile(part) {
      const bytes = await part.toBuffer();
      const tooLarge = part.file.truncated;
      const upload = {
        field: part.fieldname,
        fileName: part.filename,
        bytes: tooLarge ? new Uint8Array() : bytes,
        tooLarge,
      };
      uploads.set(this, [...(uploads.get(this) ?? []), upload]);
    },
  });
}

/**
 * The `config` of a route that says itself what is wrong with a file too large, with everything typed beside it
 * still there: such a file is skimmed over, and is in `uploads` with nothing in it.
 *
 * @param filesMax how many files of `bytesMax` each the form may bring
 * @param fieldsMax how many fields beside them
 */
export function takesFiles({ filesMax = 1, bytesMax = DRAWING_BYTES_MAX, fieldsMax = FIELDS_MAX } = {}) {
  return {
    multipartOptions: {
      throwFileSizeLimit: false,
      limits: { files: filesMax, fields: fieldsMax, parts: fieldsMax + filesMax, fileSize: bytesMax },
    },
  };
}
