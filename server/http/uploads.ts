import fastifyMultipart from '@fastify/multipart';
import type { FastifyInstance } from 'fastify';
import { DRAWING_BYTES_MAX } from './dxf-text.js';

declare module 'fastify' {
  interface FastifyRequest {
    /** Names of uploaded files as the sender gave them, by field; the body holds only their bytes. */
    uploadNames: ReadonlyMap<string, string>;
  }
}

const FIELDS_MAX = 30;

/** A field may carry a packed drawing from one sheet to the next. */
const FIELD_BYTES_MAX = 8 * 1024 * 1024;

/** Multipart forms: fields and one file's bytes become the body, read before it is validated. */
export async function readUploads(app: FastifyInstance): Promise<void> {
  const names = new WeakMap<object, Map<string, string>>();
  app.decorateRequest('uploadNames', {
    getter() {
      return names.get(this) ?? new Map();
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
      names.set(this, new Map([[part.fieldname, part.filename]]));
      await part.toBuffer();
    },
  });
}
