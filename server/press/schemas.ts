import { z } from 'zod';
import { SCREW_SIZES } from '../engineering/fit/fasteners/iso-261-threads.js';
import { ALLOYS } from '../engineering/press-facts.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { text } from '../http/text.js';
import { foreseenReply } from '../shop/schemas.js';

/** More than any bolster has, and few enough to compare each with each. */
export const HOLES_MAX = 2000;
const OPENINGS_MAX = 200;
const CORNERS_MAX = 5000;

const mm = (from: number, to: number) => z.number().min(from).max(to);
const at = { xMm: mm(-5000, 5000), yMm: mm(-5000, 5000) };
const metal = z.enum(ALLOYS);
const ring = z.array(z.strictObject(at)).min(3).max(CORNERS_MAX);

/** Facts of a bolster within bounds that no bolster passes; whether they go together is for the command. */
export const bolsterFacts = z.strictObject({
  face: z.strictObject({
    widthMm: mm(20, 3000),
    heightMm: mm(20, 3000),
    centreXMm: mm(-1500, 1500),
    centreYMm: mm(-1500, 1500),
    material: metal,
    allowablePressureMpa: z.number().min(1).max(2000),
    openings: z
      .array(ring)
      .max(OPENINGS_MAX)
      .meta({ description: 'Outlines of other openings in the face, such as old ejector bores.' }),
  }),
  holes: z
    .array(
      z.strictObject({
        ...at,
        thread: z.enum(SCREW_SIZES as unknown as readonly [string, ...string[]]).meta({
          description: 'ISO metric size, for instance M6.',
        }),
        depthMm: mm(1, 200),
        positionMm: mm(0, 2).meta({ description: 'Position tolerance as a radius.' }),
      }),
    )
    .max(HOLES_MAX),
  sprue: z.strictObject({
    lengthMm: mm(1, 300),
    nozzleEndDiameterMm: mm(0.5, 30),
    partingFaceDiameterMm: mm(0.5, 50),
  }),
  daylight: z.strictObject({ minimumMm: mm(0, 2000), largestStackMm: mm(1, 3000) }),
  halves: z
    .strictObject({ movingMm: mm(1, 1000), fixedMm: mm(1, 1000) })
    .nullable()
    .default(null)
    .meta({ description: 'Thickness of each half from its platen to the parting face; null: not known.' }),
  halfMaterial: metal.nullable().default(null).meta({ description: 'Of both halves; null: not known.' }),
});

/** Facts of the press within bounds that no press passes. */
export const pressFacts = z.strictObject({
  clamp: z.strictObject({
    kind: z.enum(['hydraulic', 'toggle']),
    minKn: z.number().min(0).max(50_000),
    maxKn: z.number().min(1).max(50_000),
    tieBarsWidthMm: mm(20, 5000),
    tieBarsHeightMm: mm(20, 5000),
    platensGuided: z.boolean(),
    eccentricMomentNmm: z
      .number()
      .min(1)
      .max(1e11)
      .nullable()
      .meta({ description: 'The maker’s limit for an off-centre opening force, N mm; null: not known.' }),
  }),
  openingStrokeMm: mm(1, 5000).meta({ description: 'With the thinnest stack the bolster takes.' }),
  injection: z.strictObject({
    screwDiameterMm: mm(5, 300),
    shotCm3: z.number().min(0.1).max(100_000),
    maxPressureMpa: z.number().min(1).max(500),
    maxFlowCm3PerS: z.number().min(0.1).max(10_000),
    barrelShots: z.number().min(0.5).max(20),
    nozzleOrificeMm: mm(0.3, 30),
  }),
  intensification: z.number().min(1).max(100).nullable(),
  platenThicknessMm: mm(1, 2000).nullable(),
  dryCycleS: z.number().min(0.5).max(600).nullable(),
  chiller: z
    .strictObject({ flowLPerMin: z.number().min(0.1).max(1000), waterC: z.number().min(0).max(95) })
    .nullable(),
});

const why = text(200).meta({ description: 'Why, for everybody to read in its history.' });
const basedOn = z
  .int()
  .meta({ description: 'The version it was changed from; refused when it is no longer the latest.' });

export const bolsterWish = z.strictObject({ facts: bolsterFacts, basedOn });
export const bolsterVersionBody = bolsterWish.extend({ why });
export const bolsterBody = z.strictObject({ name: text(60), facts: bolsterFacts, why });
export const pressWish = z.strictObject({ facts: pressFacts, basedOn });
export const pressVersionBody = pressWish.extend({ why });

export const mountingWish = z.strictObject({
  insteadOf: id
    .nullable()
    .meta({ description: 'The bolster that was mounted when this was looked at; null where none was.' }),
});
export const mountingBody = mountingWish.extend({ why });

/** A bolster on the wire: what a plate is drawn for. */
export const bolsterView = z
  .object({
    id,
    name: z.string(),
    version: z.int(),
    mounted: z.boolean(),
    pressId: id,
    ...bolsterFacts.shape,
  })
  .meta({ id: 'Bolster', description: 'Looking at the moving half’s face, origin on the sprue axis, mm.' });

export const bolsterPage = z
  .object({ items: z.array(bolsterView), next: z.string().nullable() })
  .meta({ id: 'BolsterPage' });

export const pressView = z
  .object({ id, name: z.string(), version: z.int(), mountedBolsterId: id.nullable(), ...pressFacts.shape })
  .meta({ id: 'Press' });

const told = {
  version: z.int(),
  madeBy: z.string().nullable().meta({ description: 'Null: it came with the house.' }),
  why: z.string().nullable(),
  at: instant,
};

export const bolsterVersionsReply = z.object({
  items: z.array(z.object({ ...told, facts: bolsterFacts })),
  next: z.null(),
});
export const pressVersionsReply = z.object({
  items: z.array(z.object({ ...told, facts: pressFacts })),
  next: z.null(),
});

export const groundPreviewReply = foreseenReply
  .extend({ changed: z.array(z.string()).meta({ description: 'Names of the facts that would change.' }) })
  .meta({ id: 'GroundPreview', description: 'What a change of press or bolster would do to what stands.' });
