import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { refusalUnless } from '../members/permissions.js';
import { INDUCTION_FIGURES } from '../pictures/induction-figures.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { INDUCTION_FORM_ERRORS as WRONG } from '../words/en/inductions.js';
import { blockViews, questionViews } from './part-view.js';
import { readContents } from './read-contents.js';
import { competenceName, newCompetenceName, refreshMonths, title } from './schemas.js';
import { inductionOf } from './store.js';
import { addCompetence, contentsRefusal, writeContents } from './write-contents.js';

/** A line feed for every way a browser may end a line, so that what was not changed stays the same text. */
const contents = z
  .string(WRONG.contents)
  .min(1, WRONG.contents)
  .transform((given) => given.replaceAll('\r\n', '\n'));

function field<Schema extends z.ZodType>(schema: Schema, message: string) {
  return z.unknown().transform((given, context): z.output<Schema> => {
    const parsed = schema.safeParse(given);
    if (parsed.success) return parsed.data;
    context.addIssue({ code: 'custom', message });
    return z.NEVER;
  });
}

const writtenForm = {
  title: field(title, WRONG.title),
  refreshMonths: field(z.coerce.number().pipe(refreshMonths), WRONG.refreshMonths),
  contents,
};
const editForm = z.object({
  ...writtenForm,
  basedOn: field(z.coerce.number().int().min(1), WRONG.contents),
  do: z.enum(['preview', 'keep']).catch('keep'),
});
const newForm = z.object({
  ...writtenForm,
  competence: field(newCompetenceName, WRONG.competence),
  do: z.enum(['preview', 'keep']).catch('keep'),
});

/** What a new competence begins with: one of everything. */
const FIRST_DRAFT = `## What it can do to you

Say what hurts people here, and how one keeps clear of it.

> **The one thing to remember.** Say where it comes from.

### Question: What do you do first?
- [x] The right thing
  Say why it is right.
- [ ] Something else
  Say why it is not.

## Practical part

- Showed how it is stopped
- Did one whole job without help
`;

export async function showNew(request: FastifyRequest, reply: FastifyReply, house: House) {
  return sendEdit(request, reply, house, {
    existing: null,
    given: { competence: '', title: '', refreshMonths: '12', contents: FIRST_DRAFT },
  });
}

export async function postNew(request: FastifyRequest, reply: FastifyReply, house: House) {
  const { given, value, errors } = readForm(newForm, request.body);
  if (errors !== undefined) return wrong(request, reply, house, null, given, errors);
  if (value.do === 'preview')
    return sendEdit(request, reply, house, { existing: null, given, preview: true });
  const { do: _do, ...wanted } = value;
  const outcome = await transact(house.database, (tx) =>
    addCompetence({ actor: actorOf(request), now: house.now(), tx }, wanted),
  );
  return outcome instanceof Refusal
    ? notKept(request, reply, house, null, given, outcome)
    : reply.redirect(`/inductions/${wanted.competence}`, 303);
}

export async function showEdit(request: FastifyRequest, reply: FastifyReply, house: House) {
  const existing = await editedOf(request, house);
  return sendEdit(request, reply, house, {
    existing: existing.competence,
    given: {
      title: existing.title,
      refreshMonths: String(existing.refreshMonths),
      contents: existing.contents,
      basedOn: String(existing.version),
    },
  });
}

export async function postEdit(request: FastifyRequest, reply: FastifyReply, house: House) {
  const { competence } = await editedOf(request, house);
  const { given, value, errors } = readForm(editForm, request.body);
  if (errors !== undefined) return wrong(request, reply, house, competence, given, errors);
  if (value.do === 'preview') {
    return sendEdit(request, reply, house, { existing: competence, given, preview: true });
  }
  const { basedOn, do: _do, ...wanted } = value;
  const outcome = await transact(house.database, (tx) =>
    writeContents({ actor: actorOf(request), now: house.now(), tx }, { competence, ...wanted }, basedOn),
  );
  return outcome instanceof Refusal
    ? notKept(request, reply, house, competence, given, outcome)
    : reply.redirect(`/inductions/${competence}`, 303);
}

interface Shown {
  /** The competence that is written anew; null for one that is added. */
  readonly existing: string | null;
  readonly given: { readonly [field: string]: string };
  readonly preview?: boolean;
  readonly errors?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

function wrong(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  existing: string | null,
  given: Shown['given'],
  errors: NonNullable<Shown['errors']>,
) {
  const errorSummary = summaryOfErrors(errors);
  return sendEdit(request, reply.code(422), house, { existing, given, errors, errorSummary });
}

function notKept(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  existing: string | null,
  given: Shown['given'],
  refusal: Refusal,
) {
  const errorSummary = summaryOfRefusal(refusal);
  return sendEdit(request, reply.code(refusal.status), house, { existing, given, errorSummary });
}

async function sendEdit(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  mustEdit(request);
  const { existing, given, preview = false, errors = {} } = shown;
  const text = (given.contents ?? '').replaceAll('\r\n', '\n');
  const faults = preview ? contentsRefusal(text) : undefined;
  const errorSummary = shown.errorSummary ?? (faults && summaryOfRefusal(faults));
  if (faults !== undefined) reply.code(422);
  return sendSheet(
    request,
    reply,
    house,
    'inductions/edit',
    {
      title: existing === null ? 'Add a competence' : `Write: ${given.title || existing}`,
      kicker: 'Inductions',
      current: 'inductions',
      titleBlock: [
        { label: 'Sheet', value: 'Contents of an induction' },
        { label: 'Based on', value: existing === null ? 'nothing yet' : `version ${given.basedOn}` },
      ],
      ...(errorSummary && { errorSummary }),
    },
    {
      action: existing === null ? '/inductions/new' : `/inductions/${existing}/edit`,
      isNew: existing === null,
      given: { ...given, contents: text },
      errors,
      figures: INDUCTION_FIGURES.map((name) => `figure:${name}`).join(', '),
      ...(preview && faults === undefined && { preview: previewOf(text) }),
      backHref: existing === null ? '/inductions' : `/inductions/${existing}`,
    },
  );
}

/** Every part as a reader will see it, with the reason of every answer. */
function previewOf(text: string) {
  const read = readContents(text);
  if (!('parts' in read)) return undefined;
  return {
    parts: read.parts.map((part, p) => ({
      title: `${p + 1}. ${part.title}`,
      blocks: blockViews(part.blocks),
      questions: questionViews(part, [], null).map(({ legend }, q) => ({
        legend,
        answers: part.questions[q]?.answers ?? [],
      })),
    })),
    practical: blockViews(read.practical.blocks),
    checklist: read.practical.checklist,
  };
}

async function editedOf(request: FastifyRequest, { database }: House) {
  mustEdit(request);
  const parsed = competenceName.safeParse((request.params as { competence?: unknown }).competence);
  const induction = parsed.success ? await inductionOf(database, parsed.data) : undefined;
  if (induction === undefined) throw refused('not-found', { figures: { what: 'induction' } });
  return induction;
}

function mustEdit(request: FastifyRequest): void {
  const forbidden = refusalUnless(actorOf(request), 'induction-edit', {});
  if (forbidden !== undefined) throw new Refused(forbidden);
}
