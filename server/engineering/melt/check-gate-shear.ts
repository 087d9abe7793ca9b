import type { Cure, Finding, Step } from '../finding.js';
import type { Inlet } from './feed-system.js';
import { type MeltCase, SHORTEST_FILL_S } from './melt-case.js';
import { gateShearPerS } from './pressure-drop.js';

/** An inlet with the flow that goes through it, cm3/s. */
export interface InletFlow {
  readonly inlet: Inlet;
  readonly cavity: number;
  readonly flowCm3PerS: number;
}

/**
 * The flow through every inlet: a cavity's own, parted between its inlets by what they let through, w h^3 over their
 * land (two plates close together; handbook value, from memory).
 */
export function inletFlows({ feed, filling }: Pick<MeltCase, 'feed' | 'filling'>): readonly InletFlow[] {
  return feed.inlets.flatMap((inlets, cavity) => {
    const letThrough = inlets.map(letsThrough);
    const whole = letThrough.reduce((sum, one) => sum + one, 0);
    const flow = filling.cavityFlowCm3PerS[cavity] as number;
    return inlets.map((inlet, i) => ({
      inlet,
      cavity,
      flowCm3PerS: (flow * (letThrough[i] as number)) / whole,
    }));
  });
}

/** How easily an inlet lets melt through, mm3: w h^3 over its land, h the smaller side. */
function letsThrough({ widthMm, depthMm, landMm }: Inlet): number {
  const [w, h] = widthMm >= depthMm ? [widthMm, depthMm] : [depthMm, widthMm];
  return (w * h ** 3) / Math.max(landMm, 0.5);
}

/**
 * Is the melt torn in a gate? The apparent shear rate at its wall, 6 Q / (w h^2), each gate with its share of the
 * flow, against what the polymer bears. Such limits differ by a factor of two between guides: never a stop.
 */
export function checkGateShear(melt: MeltCase): Finding {
  const limit = melt.polymer.shearRateMaxPerS;
  const common = {
    check: 'gate-shear',
    limit: limit.value,
    allowed: 'at-most',
    unit: '1/s',
    source: `shear rate that ${melt.polymer.symbol} bears: ${limit.source}`,
    basis: limit.basis,
  } as const;
  const flows = inletFlows(melt);
  const shears = flows.map(({ inlet, flowCm3PerS }) =>
    gateShearPerS(flowCm3PerS, inlet.widthMm, inlet.depthMm),
  );
  const worst = flows[shears.indexOf(Math.max(...shears))];
  if (worst === undefined) {
    return {
      ...common,
      verdict: 'unknown',
      situation: 'no-way-in',
      figure: null,
      margin: null,
      figures: {},
      places: [],
      cures: [],
    };
  }
  const shearPerS = Math.max(...shears);
  const { inlet, cavity, flowCm3PerS } = worst;
  const isOver = shearPerS > limit.value;
  const uneven = isOver ? null : unevenGates(melt);
  if (uneven !== null) return { ...common, ...uneven, working: workingOf(melt, worst, shearPerS) };
  return {
    ...common,
    verdict: isOver ? 'caution' : 'clear',
    situation: isOver ? 'torn' : 'within',
    figure: shearPerS,
    margin: limit.value - shearPerS,
    figures: {
      polymer: melt.polymer.symbol,
      cavity: cavity + 1,
      widthMm: inlet.widthMm,
      depthMm: inlet.depthMm,
      flowCm3PerS,
      fillS: melt.filling.seconds,
      inlets: flows.length,
    },
    places: isOver ? [inlet.at] : [],
    working: workingOf(melt, worst, shearPerS),
    cures: isOver ? [larger(melt, worst, limit.value), slower(melt, shearPerS / limit.value)] : [],
  };
}

/** Cavities whose gates let through more unequally than this, by volume, do not fill together. Common practice, no source. */
const UNEVEN_TIMES = 3;

/** Whether the cavities' gates let through so unequally for what they fill that one is full long before another; else null. */
function unevenGates({ feed, drawing, polymer }: MeltCase): Omit<Finding, 'check' | 'working'> | null {
  const perMm3 = feed.inlets.flatMap((inlets, cavity) => {
    const gates = inlets.filter(({ feature }) => feature === 'GATE');
    const volumeMm3 = drawing.cavities[cavity]?.volumeMm3 ?? 0;
    if (gates.length === 0 || gates.length < inlets.length) return [];
    return [
      { cavity, at: gates[0]?.at, ease: gates.reduce((sum, gate) => sum + letsThrough(gate), 0) / volumeMm3 },
    ];
  });
  const [tightest, ...others] = perMm3.toSorted((a, b) => a.ease - b.ease);
  const widest = others.at(-1);
  if (tightest?.at === undefined || widest === undefined) return null;
  const times = widest.ease / tightest.ease;
  if (times <= UNEVEN_TIMES) return null;
  return {
    verdict: 'caution',
    situation: 'uneven',
    figure: times,
    limit: UNEVEN_TIMES,
    allowed: 'at-most',
    unit: 'times',
    margin: UNEVEN_TIMES - times,
    figures: { polymer: polymer.symbol, firstCavity: widest.cavity + 1, lastCavity: tightest.cavity + 1 },
    places: [tightest.at],
    cures: [],
    source: 'common practice, no source',
    basis: 'practice',
  };
}

/** Depths are given to the 0.05 mm that a mill is set to. */
const STEP_MM = 0.05;

/** A deeper gate, but no deeper than the runner before it and the cavity behind it; then a wider one. */
function larger(melt: MeltCase, { inlet, cavity, flowCm3PerS }: InletFlow, limitPerS: number): Cure {
  const { at, widthMm, depthMm, stretches } = inlet;
  const runnerMm = stretches.findLast(({ feature }) => feature === 'RUNNER')?.depthMm ?? Infinity;
  const cavityMm = melt.drawing.cavities[cavity]?.maxDepthMm ?? Infinity;
  const mostMm = Math.max(depthMm, Math.min(runnerMm, cavityMm));
  const wholeStep = (mm: number) => Math.ceil(mm / STEP_MM - 1e-9) * STEP_MM;
  let deepMm = depthMm;
  while (gateShearPerS(flowCm3PerS, widthMm, deepMm) > limitPerS) deepMm = wholeStep(deepMm + STEP_MM / 2);
  if (deepMm <= mostMm + 1e-9)
    return { code: 'deeper-gate', amount: deepMm, unit: 'mm', figures: { depthMm, widthMm }, at };
  let wideMm = widthMm;
  while (gateShearPerS(flowCm3PerS, wideMm, mostMm) > limitPerS) wideMm = wholeStep(wideMm + STEP_MM / 2);
  return {
    code: 'wider-gate',
    amount: wideMm,
    unit: 'mm',
    figures: { depthMm, widthMm, toDepthMm: mostMm },
    at,
  };
}

function slower({ filling }: MeltCase, times: number): Cure {
  const amount = filling.seconds * times;
  return { code: 'slower-fill', amount, unit: 's', figures: { fillS: filling.seconds } };
}

function workingOf(melt: MeltCase, worst: InletFlow, shearPerS: number): readonly Step[] {
  const { inlet, cavity, flowCm3PerS } = worst;
  const { cavities } = melt.drawing;
  const cavityMm3 = cavities[cavity]?.volumeMm3 ?? 0;
  const allMm3 = cavities.reduce((sum, { volumeMm3 }) => sum + volumeMm3, 0);
  const cavityFlow = melt.filling.cavityFlowCm3PerS[cavity] ?? 0;
  const inlets = melt.feed.inlets[cavity]?.length ?? 1;
  const worked = {
    source: 'each cavity its share by volume, as if all were full at once',
    basis: 'computed',
  } as const;
  const [widthMm, depthMm] = [Math.max(inlet.widthMm, inlet.depthMm), Math.min(inlet.widthMm, inlet.depthMm)];
  return [
    ...fillSteps(melt),
    {
      says: 'cavity-flow',
      figures: {
        flowCm3PerS: melt.filling.flowCm3PerS,
        cavity: cavity + 1,
        cavityMm3,
        allMm3,
        cavityFlowCm3PerS: cavityFlow,
      },
      ...worked,
    },
    ...(inlets === 1
      ? []
      : [
          {
            says: 'inlet-flow',
            figures: {
              inlets,
              sharePercent: (100 * flowCm3PerS) / cavityFlow,
              cavityFlowCm3PerS: cavityFlow,
              flowCm3PerS,
            },
            source: 'by w h^3 over the land, two plates close together: handbook value, from memory',
            basis: 'memory',
          } as const,
        ]),
    {
      says: 'shear',
      figures: { flowCm3PerS, widthMm, depthMm, shearPerS },
      source: 'Routsis Training, Calculating apparent shear rate',
      basis: 'sourced',
    },
  ];
}

/** How long filling takes, and the flow that makes it so: what every finding on filling begins with. */
export function fillSteps({ filling, sections, shot, press }: MeltCase): readonly Step[] {
  const wallMm = Math.min(...sections.map(({ thicknessMm }) => thicknessMm));
  const meltCm3 = shot.meltMm3 / 1000;
  const { seconds: fillS, flowCm3PerS } = filling;
  const says = filling.isCapped ? 'fill-by-press' : fillS > SHORTEST_FILL_S ? 'fill-time' : 'fill-shortest';
  return [
    {
      says,
      figures: { wallMm, meltCm3, maxFlowCm3PerS: press.injection.maxFlowCm3PerS, fillS },
      source: filling.isCapped ? "the press's fastest injection" : 'common practice, no source',
      basis: filling.isCapped ? 'machine' : 'practice',
    },
    { says: 'flow', figures: { meltCm3, fillS, flowCm3PerS }, source: 'volume over time', basis: 'computed' },
  ];
}
