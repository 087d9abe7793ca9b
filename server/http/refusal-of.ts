import type { FastifyError, FastifySchemaValidationError } from 'fastify';
import { isDatabaseBusy, pgFaultOf } from '../database/pg-fault.js';
import { REASON_CODES, type Reason, type ReasonCode, Refusal, refuse } from '../reasons.js';
import { DRAWING_BYTES_MAX } from './dxf-text.js';
import { Refused } from './refused.js';

/**
 * What a thrown error says to the person who asked, or `undefined` when it is a fault of ours.
 * The one mapping for API and pages.
 */
export function refusalOf(error: unknown): Refusal | undefined {
  if (error instanceof Refused) return error.refusal;
  if (isDatabaseBusy(error)) return refuse('service-busy');
  if (pgFaultOf(error)?.sqlState === '22021') return refuse('field-invalid', UNSTORABLE);
  return isFastifyError(error) ? refusalOfFastify(error) : undefined;
}

const UNSTORABLE = { figures: { detail: 'it holds a character that cannot be stored' } };

/** What the framework and its plugins throw before a handler runs. */
const FASTIFY_REASONS: { readonly [code: string]: ReasonCode } = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'upload-too-large',
  FST_REQ_FILE_TOO_LARGE: 'upload-too-large',
  FST_FILES_LIMIT: 'upload-too-large',
  FST_PARTS_LIMIT: 'upload-too-large',
  FST_FIELDS_LIMIT: 'upload-too-large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'media-type-unsupported',
  FST_INVALID_MULTIPART_CONTENT_TYPE: 'media-type-unsupported',
  FST_ERR_CTP_INVALID_JSON_BODY: 'body-not-understood',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'body-not-understood',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'body-not-understood',
  FST_PROTO_VIOLATION: 'body-not-understood',
  FST_INVALID_JSON_FIELD_ERROR: 'body-not-understood',
  FST_ERR_BAD_URL: 'not-found',
  FST_ERR_ASYNC_CONSTRAINT: 'not-found',
  FST_CSRF_MISSING_SECRET: 'form-not-ours',
  FST_CSRF_INVALID_TOKEN: 'form-not-ours',
};

function refusalOfFastify(error: FastifyError): Refusal | undefined {
  if (error.validation !== undefined) return refusalOfValidation(error.validation);
  const code = FASTIFY_REASONS[error.code];
  if (error.code === 'FST_REQ_FILE_TOO_LARGE')
    return refuse('upload-too-large', { figures: { limitMib: DRAWING_BYTES_MAX / 1024 / 1024 } });
  if (code !== undefined) return refuse(code);
  // Anything else the framework blames on the request, such as an upload that breaks off.
  return error.statusCode !== undefined && 400 <= error.statusCode && error.statusCode < 500
    ? refuse('body-not-understood')
    : undefined;
}

function refusalOfValidation(issues: readonly FastifySchemaValidationError[]): Refusal {
  const [first, ...rest] = issues.flatMap(reasonsOfIssue);
  return first === undefined ? refuse('body-not-understood') : new Refusal([first, ...rest]);
}

function reasonsOfIssue(issue: FastifySchemaValidationError): readonly Reason[] {
  const field = issue.instancePath.slice(1).replaceAll('/', '.');
  const { keys } = issue.params as { readonly keys?: readonly string[] };
  if (issue.keyword !== 'unrecognized_keys' || keys === undefined) return [reasonOfIssue(issue, field)];
  const messages = issue.message?.split('\n') ?? [];
  return keys.map((key, i) => ({
    code: 'field-invalid',
    field: field === '' ? key : `${field}.${key}`,
    figures: { detail: asDetail(messages[i]) },
  }));
}

/** A sentence as the end of another. */
function asDetail(message = 'not understood'): string {
  return (message.slice(0, 1).toLowerCase() + message.slice(1)).replace(/[.]$/, '');
}

function reasonOfIssue(issue: FastifySchemaValidationError, field: string): Reason {
  const named = field === '' ? {} : { field };
  const code = namedReason(issue.params);
  if (code !== undefined) return { code, ...named };
  const detail = asDetail(issue.message);
  return field === ''
    ? { code: 'body-not-understood', figures: { detail } }
    : { code: 'field-invalid', field, figures: { detail } };
}

/** Shared schemas name the reason they refuse by, in `params.reason` of their issue. */
function namedReason(params: FastifySchemaValidationError['params']): ReasonCode | undefined {
  const own = params.params as unknown;
  if (typeof own !== 'object' || own === null || !('reason' in own)) return undefined;
  return REASON_CODES.find((code) => code === own.reason);
}

function isFastifyError(error: unknown): error is FastifyError {
  return error instanceof Error && 'code' in error && typeof error.code === 'string';
}
