import { SCREW_SIZES, screwSize } from '../engineering/fit/fasteners/iso-261-threads.js';
import type { PlateFacts, ScrewFacts } from '../engineering/press-facts.js';
import { type Reason, Refusal } from '../reasons.js';
import type { PlateFactsBody, ScrewBody } from './plate-facts-body.js';

/** What a plate can be in this trade: beyond it somebody mistyped. Common practice, no source. */
const SENSIBLE = {
  thicknessMm: [2, 200],
  facingThicknessMm: [0, 100],
  packerThicknessMm: [0, 200],
  partHeightMm: [0, 400],
  draftDeg: [0, 30],
  lengthMm: [4, 200],
  headSinkDepthMm: [0, 100],
  headSinkDiameterMm: [2, 60],
  diameterMm: [0.1, 50],
  taperDeg: [0.1, 30],
  holeDiameterMm: [1, 60],
} as const satisfies { readonly [field: string]: readonly [number, number] };

type Field = keyof typeof SENSIBLE;

/**
 * Plate facts in the engine's words, or every figure of them that cannot be.
 *
 * @param under the path of the facts in the request, for the reasons' fields: `plate.` or nothing
 */
export function plateFactsOf(body: PlateFactsBody, under = ''): PlateFacts | Refusal {
  const { thicknessMm, facingThicknessMm, packerThicknessMm, partHeightMm, draftDeg } = body;
  const lengths = { thicknessMm, facingThicknessMm, packerThicknessMm, partHeightMm, draftDeg };
  const groups = body.screwGroups ?? [];
  const [first, ...others] = [
    ...absurdFigures(lengths, under),
    ...wrongScrew(body.screw, thicknessMm, `${under}screw.`),
    ...groups.flatMap((group, i) => wrongGroup(group, thicknessMm, `${under}screwGroups.${i}.`)),
    ...holesTwice(groups, under),
    ...wrongCutters(body, under),
  ];
  if (first !== undefined) return new Refusal([first, ...others]);
  return {
    thicknessMm,
    facingThicknessMm: facingThicknessMm ?? 0,
    packerThicknessMm: packerThicknessMm ?? 0,
    alloy: body.alloy,
    partHeightMm: partHeightMm ?? null,
    draftDeg: draftDeg ?? null,
    cutters: (body.cutters ?? []).map(({ feature, form, diameterMm, taperDeg }) => ({
      feature: feature ?? null,
      form: form ?? null,
      diameterMm: diameterMm ?? null,
      taperDeg: taperDeg ?? null,
    })),
    screw: screwFactsOf(body.screw),
    screwGroups: groups.map(({ holeDiameterMm, holes, screw }) => ({
      holeDiameterMm: holeDiameterMm ?? null,
      holes: holes ?? [],
      screw: screwFactsOf(screw),
    })),
  };
}

function screwFactsOf({ size, lengthMm, headSinkDepthMm, headSinkDiameterMm }: ScrewBody): ScrewFacts {
  return {
    size: screwSize(size) ?? size,
    lengthMm,
    headSinkDepthMm: headSinkDepthMm ?? null,
    headSinkDiameterMm: headSinkDiameterMm ?? null,
  };
}

function absurdFigures(
  given: { readonly [field in Field]?: number | undefined },
  under: string,
): readonly Reason[] {
  return (Object.keys(given) as Field[]).flatMap((field) => {
    const value = given[field];
    const [least, most] = SENSIBLE[field];
    if (value === undefined || (least <= value && value <= most)) return [];
    const unit = field.endsWith('Deg') ? '°' : ' mm';
    return [absurd(`${under}${field}`, `${value}${unit} is not from ${least} to ${most}${unit}`)];
  });
}

/** A sink that goes through the plate is no sink; one drawn as a SINK contour is the drawing's own matter. */
function wrongScrew(screw: ScrewBody, thicknessMm: number, under: string): readonly Reason[] {
  const { size, lengthMm, headSinkDepthMm, headSinkDiameterMm } = screw;
  const sinkMm = headSinkDepthMm ?? 0;
  const through = `a sink of ${sinkMm} mm goes right through ${thicknessMm} mm`;
  const figures = { size, known: SCREW_SIZES.join(', ') };
  return [
    ...absurdFigures({ lengthMm, headSinkDepthMm, headSinkDiameterMm }, under),
    ...(sinkMm === 0 || sinkMm < thicknessMm ? [] : [absurd(`${under}headSinkDepthMm`, through)]),
    ...(screwSize(size) !== null ? [] : [{ code: 'screw-unknown', field: `${under}size`, figures } as const]),
  ];
}

type GroupBody = NonNullable<PlateFactsBody['screwGroups']>[number];

function wrongGroup(group: GroupBody, thicknessMm: number, under: string): readonly Reason[] {
  const { holeDiameterMm, holes, screw } = group;
  const named = (holeDiameterMm === undefined ? 0 : 1) + (holes === undefined ? 0 : 1);
  const which = 'its holes are named by one of holeDiameterMm and holes';
  return [
    ...(named === 1 ? [] : [absurd(`${under}holes`, which)]),
    ...absurdFigures({ holeDiameterMm }, under),
    ...wrongScrew(screw, thicknessMm, `${under}screw.`),
  ];
}

/** One hole takes one screw. */
function holesTwice(groups: readonly GroupBody[], under: string): readonly Reason[] {
  const numbers = groups.flatMap(({ holes }) => holes ?? []);
  const diameters = groups.flatMap(({ holeDiameterMm }) => holeDiameterMm ?? []);
  const repeated = [...twice(numbers).map((n) => `hole ${n}`), ...twice(diameters).map((mm) => `${mm} mm`)];
  return repeated.map((what) => absurd(`${under}screwGroups`, `${what} stands in it twice`));
}

function wrongCutters({ cutters = [] }: PlateFactsBody, under: string): readonly Reason[] {
  const repeated = twice(cutters.map(({ feature }) => feature ?? 'every other cut'));
  return [
    ...cutters.flatMap(({ form, diameterMm, taperDeg }, i) => {
      const place = `${under}cutters.${i}.`;
      const tapers = taperDeg === undefined || form === 'tapered';
      return [
        ...absurdFigures({ diameterMm, taperDeg }, place),
        ...(tapers ? [] : [absurd(`${place}taperDeg`, 'only a tapered cutter has a taper')]),
      ];
    }),
    ...repeated.map((what) => absurd(`${under}cutters`, `${what} has two cutters`)),
  ];
}

function twice<T>(values: readonly T[]): readonly T[] {
  return [...new Set(values.filter((value, i) => values.indexOf(value) !== i))];
}

function absurd(field: string, detail: string): Reason {
  return { code: 'plate-facts-absurd', field, figures: { detail } };
}
