import type { Finding } from '../finding.js';
import type { Point } from '../geometry/point.js';
import { distanceMm } from '../geometry/polyline.js';
import type { MeltCase } from './melt-case.js';
import { type CavityVent, type VentSystem, ventSystem } from './vents.js';

/** A vent farther from the last place to fill than this share of the flow does little there. Common practice, no source. */
const NEAR_SHARE = 0.4;
/** The land a vent needs before it is relieved: viewmold.com, Injection mold venting standards (1.5 mm). */
const LEAST_LAND_MM = 1.5;

/**
 * Does air get out where each cavity fills last? Every cavity needs a vent that leads to open air, shallow enough to
 * keep the melt in along its land and near the last place. Charts disagree, so none of it stops a plate.
 */
export function checkVents(melt: MeltCase): Finding {
  const system = ventSystem(melt.drawing);
  return (
    withoutVent(melt, system) ??
    tooDeep(melt, system) ??
    shortLand(melt, system) ??
    (system.touchingNothing.length > 0 ? touchingNothing(melt, system) : null) ??
    farFromLast(melt, system) ??
    vented(melt, system)
  );
}

function common({ polymer }: MeltCase) {
  const { source, basis } = polymer.ventDepthMm;
  return { check: 'vents', cures: [], source: `vent depth for ${polymer.symbol}: ${source}`, basis } as const;
}

function openVents(vents: readonly CavityVent[]): readonly CavityVent[] {
  return vents.filter(({ wayOutMm }) => wayOutMm !== null);
}

function withoutVent(melt: MeltCase, { vents }: VentSystem): Finding | null {
  const { cavities } = melt.drawing;
  const closed = vents.flatMap((own, i) => (openVents(own).length === 0 ? [i] : []));
  if (closed.length === 0) return null;
  const drawn = closed.some((i) => (vents[i] as readonly CavityVent[]).length > 0);
  const vented = cavities.length - closed.length;
  return {
    ...common(melt),
    verdict: 'caution',
    situation: drawn ? 'no-way-out' : 'none',
    figure: vented,
    limit: cavities.length,
    allowed: 'at-least',
    unit: '',
    margin: vented - cavities.length,
    figures: {
      ...bandFigures(melt),
      cavities: cavities.length,
      vented,
      cavityNumbers: closed.map((i) => i + 1),
    },
    places: closed.flatMap((i) => melt.reaches[i]?.at ?? cavities[i]?.centroid ?? []),
    source: 'common practice, no source',
    basis: 'practice',
  };
}

function bandFigures({ polymer }: MeltCase) {
  return {
    polymer: polymer.symbol,
    depthMinMm: polymer.ventDepthMm.min,
    depthMaxMm: polymer.ventDepthMm.max,
    landMm: LEAST_LAND_MM,
  };
}

function tooDeep(melt: MeltCase, { vents }: VentSystem): Finding | null {
  const { max } = melt.polymer.ventDepthMm;
  const open = vents.flatMap(openVents);
  const deepest = open.reduce(
    (best, next) => (next.depthMm > best.depthMm ? next : best),
    open[0] as CavityVent,
  );
  if (deepest.depthMm <= max) return null;
  return {
    ...depthFinding(melt, deepest),
    verdict: 'caution',
    situation: 'melt-gets-in',
    places: open.filter(({ depthMm }) => depthMm > max).map(({ at }) => at),
    cures: [
      {
        code: 'shallower-vent',
        amount: max,
        unit: 'mm',
        figures: { depthMm: deepest.depthMm },
        at: deepest.at,
      },
    ],
  };
}

/** Relief that begins too near: the melt is hardly slowed before it has a wide way. */
function shortLand(melt: MeltCase, { vents }: VentSystem): Finding | null {
  const short = vents
    .flatMap(openVents)
    .flatMap(({ at, landMm, wayOutMm }) =>
      landMm !== null && wayOutMm !== null && landMm < wayOutMm - 1e-6 && landMm < LEAST_LAND_MM - 1e-6
        ? [{ at, landMm }]
        : [],
    )
    .toSorted((a, b) => a.landMm - b.landMm);
  const [worst] = short;
  if (!worst) return null;
  const { landMm, at } = worst;
  return {
    ...common(melt),
    verdict: 'caution',
    situation: 'short-land',
    figure: landMm,
    limit: LEAST_LAND_MM,
    allowed: 'at-least',
    unit: 'mm',
    margin: landMm - LEAST_LAND_MM,
    figures: { ...bandFigures(melt), landIsMm: landMm },
    places: short.map((vent) => vent.at),
    cures: [
      {
        code: 'relief-farther',
        amount: LEAST_LAND_MM - landMm,
        unit: 'mm',
        figures: { landMm: LEAST_LAND_MM },
        at,
      },
    ],
    source: 'viewmold.com, Injection mold venting standards',
    basis: 'sourced',
  };
}

function depthFinding(melt: MeltCase, deepest: CavityVent) {
  const { max } = melt.polymer.ventDepthMm;
  return {
    ...common(melt),
    figure: deepest.depthMm,
    limit: max,
    allowed: 'at-most',
    unit: 'mm',
    margin: max - deepest.depthMm,
    figures: {
      ...bandFigures(melt),
      depthMm: deepest.depthMm,
      landIsMm: deepest.landMm ?? 0,
      cavities: melt.drawing.cavities.length,
    },
  } as const;
}

function touchingNothing(melt: MeltCase, system: VentSystem): Finding {
  return {
    ...depthFinding(melt, deepestOf(system)),
    verdict: 'caution',
    situation: 'touches-nothing',
    places: system.touchingNothing,
  };
}

function deepestOf({ vents }: VentSystem): CavityVent {
  const open = vents.flatMap(openVents);
  return open.reduce((best, next) => (next.depthMm > best.depthMm ? next : best), open[0] as CavityVent);
}

function farFromLast(melt: MeltCase, { vents }: VentSystem): Finding | null {
  const far = vents.flatMap(
    (own, i): readonly { at: Point; offMm: number; limitMm: number; cavity: number }[] => {
      const reach = melt.reaches[i];
      if (!reach) return [];
      const offMm = Math.min(...openVents(own).map(({ at }) => distanceMm(at, reach.at)));
      const limitMm = NEAR_SHARE * reach.lengthMm;
      return offMm > limitMm ? [{ at: reach.at, offMm, limitMm, cavity: i + 1 }] : [];
    },
  );
  const [worst] = far.toSorted((a, b) => b.offMm / b.limitMm - a.offMm / a.limitMm);
  if (!worst) return null;
  return {
    ...common(melt),
    verdict: 'caution',
    situation: 'far-from-last',
    figure: worst.offMm,
    limit: worst.limitMm,
    allowed: 'at-most',
    unit: 'mm',
    margin: worst.limitMm - worst.offMm,
    figures: { ...bandFigures(melt), offMm: worst.offMm, cavityNumbers: far.map(({ cavity }) => cavity) },
    places: far.map(({ at }) => at),
    source: 'common practice, no source',
    basis: 'practice',
  };
}

function vented(melt: MeltCase, system: VentSystem): Finding {
  return { ...depthFinding(melt, deepestOf(system)), verdict: 'clear', situation: 'vented', places: [] };
}
