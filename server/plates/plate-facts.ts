import { z } from 'zod';
import { SCREW_SIZES, screwSize } from '../engineering/fit/fasteners/iso-261-threads.js';
import { ALLOYS, type PlateFacts } from '../engineering/press-facts.js';
import { type Reason, Refusal } from '../reasons.js';

const lengthMm = z.number();

/** What is said about a plate beside its drawing, as it comes in; sensible figures are for `plateFactsOf`. */
export const plateFactsBody = z.strictObject({
  thicknessMm: lengthMm.meta({ description: 'Of the insert plate, 2 to 200.' }),
  facingThicknessMm: lengthMm
    .optional()
    .meta({ description: 'Of a facing plate on the fixed half; 0 for none.' }),
  packerThicknessMm: lengthMm.optional().meta({ description: 'Of packers behind the plate; 0 for none.' }),
  alloy: z.enum(ALLOYS),
  partHeightMm: lengthMm.optional().meta({ description: 'How far a part stands out when it is taken out.' }),
  screw: z.strictObject({
    size: z.string().max(20).meta({ description: 'ISO metric coarse size, for instance M6.' }),
    lengthMm,
    headSinkDepthMm: lengthMm.optional().meta({ description: 'SINK contours in the drawing win.' }),
    headSinkDiameterMm: lengthMm.optional(),
  }),
});

export type PlateFactsBody = z.output<typeof plateFactsBody>;

/** What a plate can be in this trade, mm: beyond it somebody mistyped. Common practice, no source. */
const SENSIBLE_MM = {
  thicknessMm: [2, 200],
  facingThicknessMm: [0, 100],
  packerThicknessMm: [0, 200],
  partHeightMm: [0, 400],
  'screw.lengthMm': [4, 200],
  'screw.headSinkDepthMm': [0, 100],
  'screw.headSinkDiameterMm': [2, 60],
} as const satisfies { readonly [field: string]: readonly [number, number] };

type LengthField = keyof typeof SENSIBLE_MM;

/**
 * Plate facts in the engine's words, or every figure of them that cannot be.
 *
 * @param under the path of the facts in the request, for the reasons' fields: `plate.` or nothing
 */
export function plateFactsOf(body: PlateFactsBody, under = ''): PlateFacts | Refusal {
  const size = screwSize(body.screw.size);
  const [first, ...others] = [
    ...absurdLengths(body, under),
    ...sinkTooDeep(body, under),
    ...unknownScrew(body, under),
  ];
  if (first !== undefined) return new Refusal([first, ...others]);
  return {
    thicknessMm: body.thicknessMm,
    facingThicknessMm: body.facingThicknessMm ?? 0,
    packerThicknessMm: body.packerThicknessMm ?? 0,
    alloy: body.alloy,
    partHeightMm: body.partHeightMm ?? null,
    screw: {
      size: size ?? body.screw.size,
      lengthMm: body.screw.lengthMm,
      headSinkDepthMm: body.screw.headSinkDepthMm ?? null,
      headSinkDiameterMm: body.screw.headSinkDiameterMm ?? null,
    },
  };
}

function absurdLengths(body: PlateFactsBody, under: string): readonly Reason[] {
  const given: { readonly [field in LengthField]: number | undefined } = {
    thicknessMm: body.thicknessMm,
    facingThicknessMm: body.facingThicknessMm,
    packerThicknessMm: body.packerThicknessMm,
    partHeightMm: body.partHeightMm,
    'screw.lengthMm': body.screw.lengthMm,
    'screw.headSinkDepthMm': body.screw.headSinkDepthMm,
    'screw.headSinkDiameterMm': body.screw.headSinkDiameterMm,
  };
  return (Object.keys(SENSIBLE_MM) as LengthField[]).flatMap((field) => {
    const value = given[field];
    const [least, most] = SENSIBLE_MM[field];
    if (value === undefined || (least <= value && value <= most)) return [];
    return [absurd(`${under}${field}`, `${value} mm is not from ${least} to ${most} mm`)];
  });
}

/** A sink that goes through the plate is no sink; one drawn as a SINK contour is the drawing's own matter. */
function sinkTooDeep({ thicknessMm, screw }: PlateFactsBody, under: string): readonly Reason[] {
  const depthMm = screw.headSinkDepthMm ?? 0;
  if (depthMm === 0 || depthMm < thicknessMm) return [];
  const detail = `a sink of ${depthMm} mm goes right through ${thicknessMm} mm`;
  return [absurd(`${under}screw.headSinkDepthMm`, detail)];
}

function unknownScrew({ screw }: PlateFactsBody, under: string): readonly Reason[] {
  if (screwSize(screw.size) !== null) return [];
  const figures = { size: screw.size, known: SCREW_SIZES.join(', ') };
  return [{ code: 'screw-unknown', field: `${under}screw.size`, figures }];
}

function absurd(field: string, detail: string): Reason {
  return { code: 'plate-facts-absurd', field, figures: { detail } };
}
