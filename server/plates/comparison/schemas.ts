import { z } from 'zod';
import { CHECKS } from '../../engineering/finding.js';
import { id } from '../../http/id.js';
import { checkReportSchema } from '../check-report-schema.js';
import { polymerQuery, revision } from '../schemas.js';
import { FACT_NAMES } from './facts-changed.js';
import { FINDING_CHANGES } from './findings-compared.js';

/** Two sides; of the second what is left out is the first’s, of the first the plate’s latest revision in PP. */
export const compareQuery = z.object({
  fromRevision: revision.optional(),
  fromPolymer: polymerQuery.optional(),
  fromBolsterId: id.optional().meta({ description: 'The mounted bolster when left out.' }),
  toRevision: revision.optional(),
  toPolymer: polymerQuery.optional(),
  toBolsterId: id.optional(),
});

const side = z.object({
  revision: z.int(),
  polymer: z.string(),
  bolster: z.object({ id: z.string(), version: z.int() }),
  verdict: z.string(),
});

const finding = checkReportSchema.shape.findings.element;
const placeAt = z.object({ xMm: z.number(), yMm: z.number(), diameterMm: z.number() }).nullable();
const holeChange = z.object({
  change: z.enum(['added', 'removed', 'moved', 'resized']),
  from: placeAt,
  to: placeAt,
  movedMm: z.number(),
});

export const comparisonReply = z
  .object({
    plateId: z.string(),
    from: side,
    to: side,
    findings: z.array(
      z.object({
        check: z.enum(CHECKS),
        change: z.enum(FINDING_CHANGES).meta({
          description:
            'better, worse: another verdict; more-margin, less-margin: the same verdict with more or less to spare.',
        }),
        from: finding.nullable(),
        to: finding.nullable(),
      }),
    ),
    facts: z.array(z.object({ fact: z.enum(FACT_NAMES), from: z.unknown(), to: z.unknown() })),
    drawing: z
      .object({
        same: z.boolean(),
        laidBy: z.enum(['as-drawn', 'feed', 'outline']),
        turnedDeg: z.number(),
        cuts: z.array(
          z.object({
            change: z.enum(['added', 'removed', 'deeper', 'shallower']),
            feature: z.string(),
            fromMm: z.number(),
            toMm: z.number(),
            areaMm2: z.number(),
            pieces: z.int(),
          }),
        ),
        bolts: z.array(holeChange),
        dowels: z.array(holeChange),
        outlineAddedMm2: z.number(),
        outlineRemovedMm2: z.number(),
        waterAddedMm2: z.number(),
        waterRemovedMm2: z.number(),
        feed: z.object({ movedMm: z.number(), from: placeAt, to: placeAt }).nullable(),
        figures: z.array(z.object({ figure: z.string(), from: z.number(), to: z.number() })),
      })
      .nullable()
      .meta({ description: 'Null where both have the very same file. In mm, where the later drawing lies.' }),
  })
  .meta({ id: 'PlateComparison' });
