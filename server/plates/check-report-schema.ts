import { z } from 'zod';
import { CHECKS } from '../engineering/finding.js';
import { CHECK_GROUPS } from '../words/en/checks/check-words.js';

const figure = z.number();

const place = z.object({
  xMm: figure.meta({ description: 'On the drawing, mm, to the right.' }),
  yMm: figure.meta({ description: 'On the drawing, mm, up, looking at the parting face.' }),
});

const vector = z.object({ x: figure, y: figure });

const verdictSchema = z.enum(['clear', 'caution', 'stop', 'unknown']).meta({
  description:
    'clear; caution: a steward may accept it with a note; stop: cannot be booked; unknown: an input is missing.',
});

/** What a drawing was found to hold: the reply to a drawing sent alone, and part of every check report. */
export const drawingReportSchema = z
  .object({
    widthMm: figure.meta({ description: 'Of the plate outline, as drawn.' }),
    heightMm: figure,
    units: z.enum(['mm', 'cm', 'm', 'inch']).meta({ description: 'What the file states, or mm if assumed.' }),
    unitsAssumed: z.boolean(),
    notices: z
      .array(
        z.object({
          code: z.string(),
          message: z.string(),
          layer: z.string().optional(),
          entity: z.string().optional(),
          count: z.number().optional(),
        }),
      )
      .meta({ description: 'What was left out or taken for granted.' }),
    bolts: z.array(place.extend({ diameterMm: figure })),
    feed: place.extend({
      diameterMm: figure.meta({ description: 'Of the feed pocket; the sprue’s own when FEED is a point.' }),
      depthMm: figure,
    }),
    areaMm2: z
      .object({ projected: figure, cavity: figure, runner: figure, gate: figure, vent: figure })
      .meta({ description: 'Projected is the union of cavity, runner, gate and feed, islands taken out.' }),
    volumeMm3: z.object({ moulded: figure, cavity: figure, runner: figure, gate: figure }),
    centroidFromFeedMm: vector.meta({ description: 'Centroid of the projected area, from the feed.' }),
    cavities: z.array(
      z.object({
        areaMm2: figure,
        volumeMm3: figure,
        maxDepthMm: figure,
        widthMm: figure,
        heightMm: figure,
        centroid: place,
      }),
    ),
  })
  .meta({ id: 'DrawingReport' });

const registrationReport = z
  .object({
    fits: z.boolean().meta({ description: 'Holes, feed and outline together.' }),
    holesFit: z.boolean(),
    feedFits: z.boolean(),
    outlineFits: z.boolean(),
    rotationDeg: figure.nullable().meta({
      description: 'Counter-clockwise, seen on the face, from 0 to under 360; null without bolt holes.',
    }),
    mirroredFits: z.boolean().meta({ description: 'True when the mirror image would fit.' }),
    floatMm: vector.nullable().meta({ description: 'Shift of the plate in the bolster’s directions.' }),
    worstErrorMm: figure.nullable().meta({ description: 'Of a hole, the feed exactly on the sprue.' }),
    worstErrorAfterFloatMm: figure.nullable(),
    allowanceMm: figure.nullable().meta({ description: 'Of the hole that decides.' }),
  })
  .meta({ id: 'RegistrationReport' });

const basisSchema = z.enum(['sourced', 'computed', 'memory', 'practice', 'machine']);

const cureReport = z.object({
  code: z.string(),
  amount: figure,
  unit: z.string(),
  amountText: z.string(),
  what: z.string(),
  also: z.string().nullable(),
  at: place.nullable(),
  change: z
    .object({
      thicknessMm: figure,
      facingThicknessMm: figure,
      packerThicknessMm: figure,
      alloy: z.string(),
      screwLengthMm: figure,
      headSinkDepthMm: figure,
      headSinkDiameterMm: figure,
    })
    .partial()
    .nullable()
    .meta({ description: 'Fields of the request to send again with; null when the drawing must change.' }),
  figures: z.record(z.string(), z.union([figure, z.string(), z.array(figure)])),
});

const findingReportSchema = z
  .object({
    check: z.enum(CHECKS),
    name: z.string(),
    group: z.enum(CHECK_GROUPS),
    verdict: verdictSchema,
    situation: z.string().meta({ description: 'What was found, as a code within the check.' }),
    figure: figure.nullable(),
    limit: z.union([figure, z.object({ min: figure.nullable(), max: figure.nullable() })]).nullable(),
    allowed: z.enum(['at-least', 'at-most', 'between']).nullable(),
    unit: z.string(),
    margin: figure
      .nullable()
      .meta({ description: 'In the same unit; positive: to spare, negative: missing.' }),
    marginText: z.string().nullable(),
    line: z.string().meta({ description: 'Figure and limit, short.' }),
    summary: z.string(),
    advice: z.string().nullable(),
    source: z.string().meta({
      description: 'The published source, or `common practice` or `handbook value, from memory`.',
    }),
    basis: basisSchema,
    figures: z.record(z.string(), z.union([figure, z.string(), z.array(figure)])),
    places: z.array(place).meta({ description: 'Where on the drawing; the first is the telling one.' }),
    working: z.array(z.object({ text: z.string(), source: z.string(), basis: basisSchema })).meta({
      description: 'How the figure comes about, line by line with its numbers; empty where it is read off.',
    }),
    cures: z.array(cureReport),
  })
  .meta({ id: 'FindingReport' });

/** A check report as the service answers and stores it. */
export const checkReportSchema = z
  .object({
    verdict: verdictSchema.meta({
      description: 'The worst of the findings, in the order stop, unknown, caution, clear.',
    }),
    polymer: z.string(),
    drawing: drawingReportSchema,
    registration: registrationReport,
    bolster: z.object({ id: z.string(), version: z.int() }),
    engineVersion: z.string(),
    dataVersion: z.string(),
    findings: z.array(findingReportSchema),
    notJudged: z.array(z.string()).meta({
      description: 'What moulding depends on besides and no finding speaks of.',
    }),
  })
  .meta({ id: 'CheckReport' });

export type DrawingReport = z.infer<typeof drawingReportSchema>;
export type CheckReport = z.infer<typeof checkReportSchema>;
