import { z } from 'zod';
import { ALLOYS, CUTTER_FORMS, MILLED_FEATURES } from '../engineering/press-facts.js';

const lengthMm = z.number();

/** Groups of bolt holes with screws of their own. */
const SCREW_GROUPS_MAX = 2;

const screwBody = z.strictObject({
  size: z.string().max(20).meta({ description: 'ISO metric coarse size, for instance M6.' }),
  lengthMm,
  headSinkDepthMm: lengthMm.optional().meta({ description: 'SINK contours in the drawing win.' }),
  headSinkDiameterMm: lengthMm.optional(),
});

const cutterBody = z.strictObject({
  feature: z
    .enum(MILLED_FEATURES)
    .optional()
    .meta({ description: 'The kind of cut it finishes; left out: every kind that no other cutter names.' }),
  form: z.enum(CUTTER_FORMS).optional().meta({ description: 'The usual form for that cut when left out.' }),
  diameterMm: lengthMm
    .optional()
    .meta({ description: 'At the tip of a tapered one, 0.1 to 50; chosen by the usual rule when left out.' }),
  taperDeg: z
    .number()
    .optional()
    .meta({ description: 'Each side against the axis, over 0 to 30; only of a tapered cutter.' }),
});

const screwGroupBody = z.strictObject({
  holeDiameterMm: lengthMm.optional().meta({ description: 'Bolt holes drawn with this diameter.' }),
  holes: z
    .array(z.int().min(1).max(10_000))
    .min(1)
    .max(200)
    .optional()
    .meta({ description: 'Or bolt holes by number, counting from 1 as a report lists them.' }),
  screw: screwBody,
});

/** What is said about a plate beside its drawing, as it comes in; what is sensible is for `plateFactsOf`. */
export const plateFactsBody = z.strictObject({
  thicknessMm: lengthMm.meta({ description: 'Of the insert plate, 2 to 200.' }),
  facingThicknessMm: lengthMm
    .optional()
    .meta({ description: 'Of a facing plate on the fixed half; 0 for none.' }),
  packerThicknessMm: lengthMm.optional().meta({ description: 'Of packers behind the plate; 0 for none.' }),
  alloy: z.enum(ALLOYS),
  partHeightMm: lengthMm.optional().meta({ description: 'How far a part stands out when it is taken out.' }),
  draftDeg: z.number().optional().meta({
    description: 'Of the cavity’s walls, each side, 0 to 30; the cutter’s or the usual when left out.',
  }),
  cutters: z
    .array(cutterBody)
    .max(MILLED_FEATURES.length + 1)
    .optional(),
  screw: screwBody,
  screwGroups: z
    .array(screwGroupBody)
    .max(SCREW_GROUPS_MAX)
    .optional()
    .meta({ description: 'Bolt holes that take another screw than `screw`.' }),
});

export type PlateFactsBody = z.output<typeof plateFactsBody>;

export type ScrewBody = PlateFactsBody['screw'];
