import { z } from 'zod';
import { CHECKS } from '../../engineering/finding.js';
import { id } from '../../http/id.js';
import { instant } from '../../http/instant.js';
import { text } from '../../http/text.js';
import { STEPS } from './steps.js';

/** A length off a caliper or a micrometer; whether it can be one of this plate is for the judging. */
const readingMm = z.number().positive().max(1000);

const holeReading = z.strictObject({
  hole: z.int().min(1).max(999).meta({ description: 'As the measuring sheet numbers the holes, from 1.' }),
  diameterMm: readingMm.optional(),
  sinkDiameterMm: readingMm.optional(),
  sinkDepthMm: readingMm.optional(),
});

const acceptedCaution = z.union([
  z.enum(CHECKS),
  z.strictObject({
    check: z.enum(CHECKS),
    polymer: z.string().trim().min(1).max(20).optional().meta({ description: 'In all when left out.' }),
    note: text(500).optional(),
  }),
]);

export const clearanceNote = text(1000);

export const clearanceBody = z.strictObject({
  step: z.enum(STEPS),
  decision: z.enum(['clear', 'refuse', 'void']).meta({
    description: 'refuse and void take the plate back to before the step, and need a note.',
  }),
  bolsterId: id.optional().meta({ description: 'The mounted bolster when left out.' }),
  polymers: z
    .array(z.string().trim().min(1).max(20))
    .max(20)
    .optional()
    .meta({ description: 'For production: at least one. Earlier steps take no notice of them.' }),
  acceptedCautions: z
    .array(acceptedCaution)
    .max(200)
    .optional()
    .meta({
      description:
        'For production: every check of each polymer’s report that is caution or unknown, by its name; a ' +
        'stop cannot be accepted.',
    }),
  measuredThicknessMm: z.array(readingMm).length(4).optional().meta({
    description:
      'Needed to clear the fit. At the corners seen on the face: top left, top right, bottom right, bottom left.',
  }),
  readings: z
    .strictObject({
      holes: z.array(holeReading).max(200).optional(),
      feedDiameterMm: readingMm.optional(),
      feedDepthMm: readingMm.optional(),
      burrsRemoved: z.boolean().optional(),
      headsBelowFace: z.boolean().optional(),
    })
    .optional()
    .meta({
      description:
        'For fit. The steward decides what is worth measuring; of a fit that was cleared without them the history ' +
        'says that no hole was measured.',
    }),
  trialRunId: id.optional().meta({ description: 'For trial: the run whose trial sheet was kept.' }),
  note: clearanceNote.optional(),
});

export const reworkBody = z.strictObject({ reason: clearanceNote });

const mm = z.number();

const readingsReply = z.object({
  thicknessMm: z.array(mm).nullable(),
  parallelismMm: mm.nullable().meta({ description: 'Largest less smallest thickness.' }),
  holes: z.array(
    z.object({
      hole: z.int(),
      diameterMm: mm.nullable(),
      sinkDiameterMm: mm.nullable(),
      sinkDepthMm: mm.nullable(),
    }),
  ),
  feedDiameterMm: mm.nullable(),
  feedDepthMm: mm.nullable(),
  burrsRemoved: z.boolean().nullable(),
  headsBelowFace: z.boolean().nullable(),
  judged: z.array(
    z.object({
      check: z.string(),
      field: z.string(),
      hole: z.int().nullable(),
      verdict: z.enum(['clear', 'caution', 'stop', 'unknown']),
      situation: z.string(),
      figureMm: mm,
      drawnMm: mm.nullable(),
      limitMm: mm,
      allowed: z.enum(['at-least', 'at-most', 'within']),
      meantMm: mm.nullable(),
      source: z.string(),
      basis: z.string(),
    }),
  ),
});

export const clearanceReply = z
  .object({
    id: z.string(),
    plateId: z.string(),
    revision: z.int(),
    bolster: z.object({ id: z.string(), name: z.string(), version: z.int() }),
    step: z.enum(STEPS),
    decision: z.enum(['clear', 'refuse', 'rework', 'void']),
    readings: readingsReply.nullable(),
    trialRunId: z.string().nullable(),
    note: z.string().nullable(),
    decidedBy: z.object({ id: z.string(), displayName: z.string() }),
    decidedAt: instant,
    voidBecause: z
      .enum(['revised', 'bolster-changed', 'refused', 'reworked', 'taken-back'])
      .nullable()
      .meta({ description: 'Why what it cleared stands no longer; null while it stands.' }),
    reports: z.array(
      z.object({
        polymer: z.string(),
        reportId: z.string(),
        acceptedCautions: z.array(
          z.object({
            check: z.string(),
            verdict: z.enum(['clear', 'caution', 'stop', 'unknown']),
            note: z.string().nullable(),
          }),
        ),
      }),
    ),
  })
  .meta({ id: 'Clearance' });

export const reworkReply = z.object({ items: z.array(clearanceReply), next: z.null() });

export const clearanceHistoryReply = z.object({
  reached: z.enum(['none', ...STEPS]).meta({
    description: 'How far the revision has come on the bolster asked for, as it is now.',
  }),
  polymers: z.array(z.string()),
  next: z.null(),
  items: z.array(clearanceReply),
});
