import { z } from 'zod';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { text } from '../http/text.js';

/** Names that the pages need for themselves. */
const RESERVED: ReadonlySet<string> = new Set([
  'card',
  'declaration',
  'declare-anew',
  'history',
  'new',
  'sign-offs',
  'witness',
]);

/** What one is signed off for, as the address and the API call it. One that cannot be ours is not there. */
export const competenceName = z
  .string()
  .max(40)
  .refine((name) => /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/.test(name), {
    params: { reason: 'not-found' },
    error: 'There is nothing of this name.',
  })
  .meta({ description: 'For instance press-operation.' });

export const newCompetenceName = z
  .string()
  .trim()
  .max(40)
  .regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/, 'Small letters, digits and single hyphens.')
  .refine((name) => !RESERVED.has(name), 'The pages need this name for themselves.');

export const competenceParams = z.object({ competence: competenceName });

export const title = text(60);
export const refreshMonths = z
  .int()
  .min(1)
  .max(120)
  .meta({ description: 'A sign-off lapses after so many.' });
const contents = z.string().min(1).max(60_000).meta({ description: 'Markdown, as the edit page says.' });
const version = z.int().min(1).max(1_000_000);

export const competenceBody = z.strictObject({
  competence: newCompetenceName,
  title,
  refreshMonths,
  contents,
});
export const contentsBody = z.strictObject({
  title,
  refreshMonths,
  contents,
  basedOn: version.meta({
    description: 'The version that was changed; with another meanwhile it is refused.',
  }),
});

/** A sign-off with how it stands. */
export const signOffReply = z
  .object({
    id: z.string(),
    memberId: z.string(),
    displayName: z.string(),
    competence: z.string(),
    version: z.int().meta({ description: 'Of the contents it was given for.' }),
    state: z.enum(['standing', 'lapsed', 'revoked', 'refreshed']),
    founding: z.boolean().meta({ description: 'Declared by the member, without a witness.' }),
    anew: z.boolean().meta({
      description: 'Such a declaration made because nobody stewarded any more; else at the founding.',
    }),
    signedBy: z.string(),
    signedByName: z.string(),
    signedAt: instant,
    validUntil: instant,
    note: z.string().nullable(),
    witnessed: z.array(z.string()),
    endedAt: instant.nullable(),
    endedByName: z.string().nullable(),
    endReason: z.string().nullable(),
  })
  .meta({ id: 'SignOff' });

export const competenceReply = z
  .object({
    competence: z.string(),
    title: z.string(),
    version: z.int(),
    refreshMonths: z.int(),
    parts: z.int(),
    partsDone: z.int().meta({ description: 'Of this version, by the one who asks.' }),
    witnessAskedAt: instant.nullable(),
    signOff: signOffReply.nullable().meta({ description: 'Of the one who asks, while it stands.' }),
  })
  .meta({ id: 'Competence' });

export const competencesReply = z.object({ items: z.array(competenceReply), next: z.null() });

const question = z.object({ asks: z.string(), answers: z.array(z.string()) });

export const inductionReply = z
  .object({
    competence: z.string(),
    title: z.string(),
    version: z.int(),
    refreshMonths: z.int(),
    contents: z.string().meta({ description: 'Markdown.' }),
    createdAt: instant,
    parts: z.array(z.object({ part: z.int(), title: z.string(), questions: z.array(question) })),
    checklist: z.array(z.string()),
  })
  .meta({ id: 'Induction' });

export const inductionQuery = z.object({ version: z.coerce.number().int().min(1).max(1_000_000).optional() });

export const writtenReply = z.object({ competence: z.string(), version: z.int() });

export const answersBody = z.strictObject({
  version,
  part: z.int().min(1).max(100),
  answers: z
    .array(z.int().min(0).max(20).nullable())
    .max(20)
    .default([])
    .meta({ description: 'By question the place of the answer chosen, from 0 on; null where none is.' }),
});

export const answersReply = z
  .object({
    done: z.boolean(),
    questions: z.array(
      z.object({
        asks: z.string(),
        chosen: z.int().nullable(),
        right: z.boolean(),
        why: z.string().nullable(),
      }),
    ),
  })
  .meta({ id: 'PartOutcome' });

export const witnessBody = z.strictObject({ note: text(500).nullable().default(null) }).prefault({});

export const witnessReply = z
  .object({
    id: z.string(),
    memberId: z.string(),
    displayName: z.string(),
    competence: z.string(),
    version: z.int(),
    note: z.string().nullable(),
    askedAt: instant,
  })
  .meta({ id: 'WitnessRequest' });

export const witnessesReply = z.object({ items: z.array(witnessReply), next: z.null() });

export const signOffBody = z
  .strictObject({
    memberId: id,
    competence: competenceName,
    note: text(1000).nullable().default(null).meta({
      description: 'What was seen done. May be left out only with the whole checklist in witnessed.',
    }),
    requestId: id.nullable().default(null).meta({
      description: 'The request for a witness that this answers; it has to be open. Else any open one is.',
    }),
    eighteenOrOlder: z
      .boolean()
      .default(true)
      .meta({
        description:
          'Under-eighteens are never operators. Sending this call is the signer’s declaration that the practical part ' +
          'was witnessed and that the member is eighteen or older: that is what true, the default, says, and what is ' +
          'kept. false is refused.',
      }),
    witnessed: z
      .array(text(300))
      .max(50)
      .default([])
      .meta({
        description:
          'What was seen done, item by item: every item of the checklist. Without it the history and the trail say ' +
          'that the checklist is not on record, and note has to say what was seen.',
      }),
    refreshes: id
      .nullable()
      .default(null)
      .meta({ description: 'The sign-off that stands and that this one follows.' }),
  })
  .meta({ id: 'NewSignOff' });

export const declarationBody = z.strictObject({
  competences: z.array(competenceName).min(1).max(50),
  note: text(1000).nullable().default(null),
  eighteenOrOlder: z.boolean(),
});

export const anewBody = z.strictObject({
  note: text(1000).meta({ description: 'Why nobody could witness it.' }),
  eighteenOrOlder: z.boolean(),
});

export const signOffsQuery = z.object({
  memberId: id.optional().meta({ description: 'Whose; one’s own when left out.' }),
});

export const signOffsReply = z.object({ items: z.array(signOffReply), next: z.null() });

export const revokeBody = z.strictObject({ reason: text(500) });
