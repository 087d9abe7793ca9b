import { z } from 'zod';
import { TRIAL_STEP_KINDS } from '../engineering/run/trial-steps.js';
import { pageOf, pageQuery } from '../http/cursor.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { text } from '../http/text.js';
import { ALL_OUTCOMES } from './outcomes.js';
import { PRE_USE_LINES } from './pre-use.js';
import { ALL_OBSERVATIONS } from './trial/observations.js';
import { WENT } from './trial/where.js';

const preUse = z
  .array(z.enum(PRE_USE_LINES))
  .max(PRE_USE_LINES.length)
  .transform((lines) => [...new Set(lines)]);

export const openBody = z.strictObject({
  preUse: preUse
    .default([])
    .meta({ description: 'The lines of the pre-use check that are in order; all of them are needed.' }),
  withinCall: z
    .union([z.strictObject({ memberId: id }), z.strictObject({ name: text(80) })])
    .optional()
    .meta({ description: 'Another person who would hear a call: a member, or a name.' }),
  attendedBy: id.optional().meta({ description: 'For a trial: the steward who stands by.' }),
});

const setAs = z
  .strictObject({
    screwMm: z.number().min(0).max(1000),
    clampKn: z.number().min(0).max(50_000),
    holdMpa: z.number().min(0).max(400),
    holdGaugeBar: z.number().min(0).max(1000),
    holdS: z.number().min(0).max(600),
  })
  .partial()
  .transform((given) => Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)));

export const stepBody = z.strictObject({
  step: z.string().max(40).meta({ description: 'Name of the step that is due.' }),
  setAs: setAs.default({}),
  seen: z.array(z.enum(ALL_OBSERVATIONS)).max(20).default([]),
  note: text(1000).optional(),
  went: z.enum(WENT).meta({ description: 'Where it led: on, again, back or stop.' }),
  photographId: id.optional().meta({ description: 'Of this plate’s revision, kept before.' }),
});

export const closingBody = z.strictObject({
  outcome: z.enum(ALL_OUTCOMES),
  note: text(1000).optional().meta({ description: 'Needed unless it ended well.' }),
});

export const runsQuery = pageQuery.extend({
  mine: z
    .stringbool()
    .optional()
    .meta({ description: 'Only of own bookings; a steward sees everybody’s without it.' }),
});

const figure = z.number().nullable();

const trialStepReply = z
  .object({
    name: z.string(),
    kind: z.enum(TRIAL_STEP_KINDS),
    percent: figure,
    asNeeded: z
      .boolean()
      .meta({ description: 'True for what is only done where the step before asks for it.' }),
    set: z.object({
      screwMm: figure,
      meterMm: figure,
      clampKn: figure,
      holdMpa: figure,
      holdGaugeBar: figure,
    }),
    title: z.string(),
    does: z.string(),
    look: z.string(),
    stop: z.string(),
  })
  .meta({ id: 'TrialStep' });

export const trialPlanReply = z
  .object({
    bolsterId: z.string(),
    bolsterVersion: z.int(),
    shotMm3: z.number(),
    screwMm: z.number(),
    cushionMm: z.number(),
    clampFrom: z.enum(['window', 'needed', 'unknown']),
    notes: z.array(z.string()),
    steps: z.array(trialStepReply),
  })
  .meta({ id: 'TrialPlan' });

const keptStep = z.object({
  id: z.string(),
  step: z.string(),
  setAs: z.record(z.string(), z.number()),
  seen: z.array(z.string()),
  note: z.string().nullable(),
  went: z.enum(WENT),
  photographId: z.string().nullable(),
  keptBy: z.string().meta({ description: 'The display name of who kept it.' }),
  keptAt: instant,
});

export const runReply = z
  .object({
    id: z.string(),
    bookingId: z.string(),
    displayName: z.string().meta({ description: 'Whose booking it is.' }),
    plateId: z.string(),
    plateName: z.string(),
    revision: z.int(),
    bolsterId: z.string(),
    bolsterVersion: z.int(),
    polymer: z.string(),
    kind: z.enum(['trial', 'production']),
    openedBy: z.string(),
    openedAt: instant,
    preUse: z.array(z.enum(PRE_USE_LINES)),
    withinCall: z.string(),
    attendedBy: z.string().nullable(),
    closedAt: instant.nullable(),
    outcome: z.enum(ALL_OUTCOMES).nullable(),
    outcomeNote: z.string().nullable(),
    steps: z
      .array(keptStep)
      .meta({ description: 'What was kept of a trial, in its order; empty for production.' }),
    dueStep: z
      .string()
      .nullable()
      .meta({ description: 'The step that a trial is at; null where none is due.' }),
  })
  .meta({ id: 'Run' });

export const runsReply = pageOf(runReply.omit({ steps: true, dueStep: true }).meta({ id: 'RunLine' }));
