import { z } from 'zod';
import { CUTTER_FORMS, MILLED_FEATURES } from '../engineering/press-facts.js';
import { pageOf, pageQuery } from '../http/cursor.js';
import { dxfText } from '../http/dxf-text.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { text } from '../http/text.js';
import { plateFactsBody } from './plate-facts-body.js';
import { SHOTS_MOST } from './run-facts.js';
import { PLATE_CONDITIONS } from './store.js';

export const drawingBody = z.strictObject({ dxf: dxfText });

const plateBody = plateFactsBody.extend({ dxf: dxfText });

export const polymerQuery = z
  .string()
  .trim()
  .min(1)
  .max(20)
  .meta({ description: 'Polymer symbol, for instance PP.' });

export const checkBody = z.strictObject({
  plate: plateBody,
  resin: z
    .strictObject({
      polymer: polymerQuery.optional(),
      gradeId: id
        .optional()
        .meta({ description: 'A grade of the house, instead of a polymer; for members.' }),
      sackId: z.string().max(100).optional(),
    })
    .superRefine((resin, context) => {
      if (resin.sackId !== undefined) {
        const message = 'Sacks are not kept here yet: name the polymer instead.';
        context.addIssue({ code: 'custom', path: ['sackId'], message });
      } else if (resin.polymer !== undefined && resin.gradeId !== undefined) {
        const message = 'Name the polymer or the grade, not both.';
        context.addIssue({ code: 'custom', path: ['gradeId'], message });
      } else if (resin.polymer === undefined && resin.gradeId === undefined) {
        context.addIssue({
          code: 'custom',
          path: ['polymer'],
          message: 'Name the polymer, for instance PP.',
        });
      }
    }),
  bolsterId: id.optional().meta({ description: 'The mounted bolster when left out.' }),
  run: z
    .strictObject({
      shots: z
        .int(`A run has from 1 to ${SHOTS_MOST} shots, in whole numbers.`)
        .min(1, `A run has from 1 to ${SHOTS_MOST} shots, in whole numbers.`)
        .max(SHOTS_MOST, `A run has from 1 to ${SHOTS_MOST} shots, in whole numbers.`)
        .optional()
        .meta({
          description: 'How many are meant to be made; without it only minutes to each limit are given.',
        }),
      chiller: z
        .boolean()
        .optional()
        .meta({ description: 'Chilled water through the plate’s own channels. False when left out.' }),
    })
    .optional()
    .meta({ description: 'The run it is checked for: plate-warming judges it.' }),
});

/** The plate itself, or under `plate` as a check request has it. */
function flat(body: unknown): unknown {
  if (typeof body !== 'object' || body === null || !('plate' in body)) return body;
  const { plate, ...rest } = body;
  return typeof plate === 'object' && plate !== null ? { ...plate, ...rest } : body;
}

/** A field of a form that may be left empty. */
function orNothing(max: number) {
  return z.preprocess((given) => (given === '' ? null : given), text(max).nullable());
}

export const plateName = text(80);
export const sharing = z
  .enum(['nobody', 'see', 'run'])
  .meta({ description: 'What others may do with it: nothing, see it, or see and run it.' });
const plateOnRack = z.strictObject({
  place: text(60).nullable().optional().meta({ description: 'Where it lies.' }),
  condition: z.enum(PLATE_CONDITIONS).optional(),
  conditionNote: text(200).nullable().optional(),
});
/** The same as a page's form sends it, where an empty field says that nothing is to be said. */
export const rackForm = z.object({
  place: orNothing(60),
  condition: z.enum(PLATE_CONDITIONS),
  conditionNote: orNothing(200),
});
export const changeBody = plateOnRack.extend({
  name: plateName.optional(),
  sharing: sharing.optional(),
  retired: z.boolean().optional().meta({ description: 'Neither booked nor revised while it is.' }),
});
export const ownerBody = z.strictObject({ memberId: id });
const revisionNote = text(1000).meta({ description: 'What is new, or worth knowing.' });
export const noteOfForm = orNothing(1000);
const keptBody = plateBody.extend({
  note: revisionNote.optional(),
  facingPartId: id
    .optional()
    .meta({ description: 'A facing plate of the rack, which says how thick it is.' }),
  packerPartIds: z.array(id).max(10).optional().meta({ description: 'Packers of the rack, likewise.' }),
});
export const submitBody = z.preprocess(flat, keptBody.extend({ name: plateName }));
export const revisionBody = z.preprocess(flat, keptBody);

/** Revisions count from 1; what cannot be one answers like one that is not there. */
export const revision = z
  .string()
  .refine((value) => /^[1-9]\d{0,8}$/.test(value), {
    params: { reason: 'not-found' },
    error: 'There is no such revision.',
  })
  .transform(Number)
  .meta({ description: 'Revision, counting from 1.' });

export const revisionParams = z.object({ id, revision });

export const platesQuery = pageQuery.extend({
  cleared: z.stringbool().optional(),
  shared: z.stringbool().optional().meta({ description: 'What others share with one instead of one’s own.' }),
});
export const reportQuery = z.object({ polymer: polymerQuery, bolsterId: id.optional() });

export const plateReply = z
  .object({
    id: z.string(),
    name: z.string(),
    ownerId: z.string(),
    revision: z.int().meta({ description: 'The latest, counting from 1.' }),
    cleared: z.boolean().meta({
      description:
        'A steward has cleared the latest revision for production on the mounted bolster, and nothing has taken that ' +
        'back. A report that says worse since is told by the check and by the bookings, not here.',
    }),
    createdAt: instant,
    ownerName: z.string(),
    sharing,
    place: z.string().nullable(),
    condition: z.enum(PLATE_CONDITIONS),
    conditionNote: z.string().nullable(),
    retired: z.boolean(),
  })
  .meta({ id: 'Plate' });

export const platesReply = pageOf(plateReply);

const screwReply = z.object({
  size: z.string(),
  lengthMm: z.number(),
  headSinkDepthMm: z.number().nullable(),
  headSinkDiameterMm: z.number().nullable(),
});

export const wholePlateReply = plateReply
  .extend({
    revisions: z.array(
      z.object({
        revision: z.int(),
        fileName: z.string(),
        dxfSha256: z.string(),
        createdAt: instant,
        note: z.string().nullable(),
        thicknessMm: z.number(),
        facingThicknessMm: z.number(),
        packerThicknessMm: z.number(),
        facingPartId: z.string().nullable(),
        packerPartIds: z.array(z.string()),
        alloy: z.string(),
        partHeightMm: z.number().nullable(),
        draftDeg: z.number().nullable(),
        cutters: z.array(
          z.object({
            feature: z.enum(MILLED_FEATURES).nullable(),
            form: z.enum(CUTTER_FORMS).nullable(),
            diameterMm: z.number().nullable(),
            taperDeg: z.number().nullable(),
          }),
        ),
        screw: screwReply,
        screwGroups: z.array(
          z.object({
            holeDiameterMm: z.number().nullable(),
            holes: z.array(z.int()),
            screw: screwReply,
          }),
        ),
      }),
    ),
  })
  .meta({ id: 'WholePlate' });

/** A plate that has just been kept. */
export const keptPlateReply = wholePlateReply
  .extend({
    sameDrawing: z
      .array(z.object({ plateId: z.string(), name: z.string(), revision: z.int() }))
      .meta({ description: 'Where this very file was kept already among one’s own plates.' }),
  })
  .meta({ id: 'KeptPlate' });
