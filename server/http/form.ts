import type { z } from 'zod';
import type { Reason, Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { summaryTitle } from '../words/en/forms.js';
import { wordReason } from '../words/en/reasons.js';

/** What a field is not, by the field's name. */
export type FieldErrors = { readonly [field: string]: string };

/** A form as it was sent, for showing it again, and what became of it. */
export type ReadForm<Value> = {
  readonly given: { readonly [field: string]: string };
} & (
  | { readonly value: Value; readonly errors?: never }
  | { readonly errors: FieldErrors; readonly value?: never }
);

/** Reads a form's fields; each wrong one has its message, the first there is. */
export function readForm<Schema extends z.ZodType>(
  schema: Schema,
  body: unknown,
): ReadForm<z.output<Schema>> {
  const fields = typeof body === 'object' && body !== null ? body : {};
  const given = Object.fromEntries(
    Object.entries(fields).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
  const parsed = schema.safeParse(fields);
  return parsed.success ? { given, value: parsed.data } : { given, errors: errorsByField(parsed.error) };
}

function errorsByField(error: z.ZodError): FieldErrors {
  const errors: Record<string, string> = {};
  for (const { path, message } of error.issues) errors[String(path[0] ?? '')] ??= message;
  return errors;
}

/**
 * The summary above a form, each line leading to its field; a field's control has the field's name as id.
 *
 * @param labels what stands over the fields, where a message does not say which it means
 */
export function summaryOfErrors(errors: FieldErrors, labels: FieldErrors = {}): ErrorSummaryView {
  const items = Object.entries(errors).map(([field, message]) => {
    const label = labels[field];
    const text =
      label === undefined ? message : `${label}: ${message.slice(0, 1).toLowerCase()}${message.slice(1)}`;
    return field === '' ? { text } : { field, text };
  });
  return { title: summaryTitle(items.length), items };
}

type ReasonLink = (reason: Reason) => { readonly href: string; readonly text: string } | undefined;

/**
 * The summary above a form whose command was refused: every reason with its cure.
 *
 * @param linkOf where a reason is seen whole
 */
export function summaryOfRefusal(refusal: Refusal, linkOf?: ReasonLink): ErrorSummaryView {
  const items = refusal.reasons.map((reason) => itemOf(reason, linkOf?.(reason)));
  return { title: summaryTitle(refusal.reasons.length), items };
}

function itemOf(reason: Reason, link: ReturnType<ReasonLink>) {
  const { message, fix } = wordReason(reason);
  return {
    text: message,
    fix,
    ...(reason.field !== undefined && { field: reason.field }),
    ...(link !== undefined && { link }),
  };
}
