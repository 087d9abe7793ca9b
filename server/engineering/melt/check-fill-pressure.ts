import type { Finding } from '../finding.js';
import { sprueAtStack } from '../fit/sprue-at-stack.js';
import { flowAt } from '../polymers/flow-at.js';
import type { FlowPoint } from '../polymers/polymer.js';
import { type InletFlow, inletFlows } from './check-gate-shear.js';
import { frozenLayerMm } from './frozen-layer.js';
import type { MeltCase } from './melt-case.js';
import { roundDropMpa, slitDropMpa } from './pressure-drop.js';

/** Generic flow curves are good to a factor of two. */
const CURVE_WITHIN = 2;

/** What it takes to push the melt to a cavity's end, part by part, MPa. */
interface Path {
  readonly flow: InletFlow;
  readonly sprueMpa: number;
  readonly runnerMpa: number;
  readonly gateMpa: number;
  readonly cavityMpa: number;
  readonly totalMpa: number;
  /** What is left open of the cavity's wall when it is full, mm. */
  readonly openMm: number;
}

/**
 * Can the press push the melt to the end of the worst cavity before it freezes? By the longest way and the usual melt
 * temperature, part by part: sprue, runner with its share of the flow, gate, cavity as a strip of its mean width and
 * depth, all narrowed by the layer that freezes while it fills. The nozzle is left out.
 * Without a flow curve that can be trusted it goes by flow ratio alone.
 */
export function checkFillPressure(melt: MeltCase): Finding {
  const law = flowAt(melt.polymer, melt.polymer.temperatures.sets[1].meltC);
  if (law === null || melt.polymer.flow === null) return byFlowRatio(melt);
  const worst = worstPath(melt, law);
  const limit = melt.press.injection.maxPressureMpa;
  const common = {
    check: 'fill-pressure',
    limit,
    allowed: 'at-most',
    unit: 'MPa',
    source: `flow curve of ${melt.polymer.symbol}: ${melt.polymer.flow.source}`,
    basis: melt.polymer.flow.basis,
  } as const;
  if (worst === null) {
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
  const { flow, ...parts } = worst;
  const reach = melt.reaches[flow.cavity];
  const figures = {
    ...parts,
    polymer: melt.polymer.symbol,
    cavity: flow.cavity + 1,
    flowCm3PerS: melt.filling.flowCm3PerS,
    fillS: melt.filling.seconds,
    topMpa: CURVE_WITHIN * worst.totalMpa,
    ratio: reach?.ratio ?? 0,
    lengthMm: reach?.lengthMm ?? 0,
  };
  const places = reach ? [reach.at] : [];
  if (worst.openMm <= 0) {
    return {
      ...common,
      verdict: 'caution',
      situation: 'freezes-off',
      figure: null,
      margin: null,
      figures,
      places,
      cures: [],
    };
  }
  const isOver = worst.totalMpa > limit;
  const isTopOver = CURVE_WITHIN * worst.totalMpa > limit;
  return {
    ...common,
    verdict: isOver ? 'stop' : isTopOver ? 'caution' : 'clear',
    situation: isOver ? 'over' : isTopOver ? 'top-of-band-over' : 'within',
    figure: worst.totalMpa,
    margin: limit - worst.totalMpa,
    figures,
    places: isTopOver ? places : [],
    cures: [],
  };
}

function worstPath(melt: MeltCase, law: FlowPoint): Path | null {
  const paths = inletFlows(melt).map((flow) => pathTo(melt, law, flow));
  return paths.reduce<Path | null>(
    (worst, next) => (worst && rank(worst) >= rank(next) ? worst : next),
    null,
  );
}

function rank({ openMm, totalMpa }: Path): number {
  return openMm <= 0 ? Infinity : totalMpa;
}

function pathTo(melt: MeltCase, law: FlowPoint, flow: InletFlow): Path {
  const { drawing, filling, polymer } = melt;
  const cavity = drawing.cavities[flow.cavity];
  const reach = melt.reaches[flow.cavity];
  const layerMm = frozenLayerMm(polymer, filling.seconds / 2);
  const { lengthMm, endDiameterMm } = sprueAtStack(melt.bolster, melt.plate);
  const sprueMpa = roundDropMpa(
    law,
    filling.flowCm3PerS,
    lengthMm,
    melt.bolster.sprue.nozzleEndDiameterMm,
    endDiameterMm,
  );
  const stretch = (flowCm3PerS: number, mm: number, widthMm: number, depthMm: number) =>
    slitDropMpa(
      law,
      flowCm3PerS,
      mm,
      Math.max(0.1, widthMm - 2 * layerMm),
      Math.max(0.05, depthMm - 2 * layerMm),
    );
  const runnerMpa = flow.inlet.stretches
    .filter(({ feature }) => feature === 'RUNNER' || feature === 'CAVITY')
    .reduce(
      (sum, { place, ...one }) =>
        sum + stretch(shareThrough(melt, place), one.lengthMm, one.widthMm, one.depthMm),
      0,
    );
  const gateMpa = slitDropMpa(
    law,
    flow.flowCm3PerS,
    flow.inlet.landMm,
    flow.inlet.widthMm,
    flow.inlet.depthMm,
  );
  const meanMm = cavity ? cavity.volumeMm3 / cavity.areaMm2 : 0;
  const openMm = meanMm - 2 * layerMm;
  const cavityMpa =
    cavity && reach && reach.lengthMm > 0 && openMm > 0
      ? slitDropMpa(law, flow.flowCm3PerS, reach.lengthMm, cavity.areaMm2 / reach.lengthMm, openMm)
      : 0;
  const totalMpa = sprueMpa + runnerMpa + gateMpa + cavityMpa;
  return { flow, sprueMpa, runnerMpa, gateMpa, cavityMpa, totalMpa, openMm };
}

/** The flow through a channel: that of every cavity whose way leads through it. */
function shareThrough({ feed, filling }: MeltCase, place: number): number {
  return feed.inlets.reduce((sum, inlets, cavity) => {
    const leads = inlets.some(({ stretches }) => stretches.some((stretch) => stretch.place === place));
    return leads ? sum + (filling.cavityFlowCm3PerS[cavity] as number) : sum;
  }, 0);
}

function byFlowRatio(melt: MeltCase): Finding {
  const { polymer, reaches } = melt;
  const { min, max, source, basis } = polymer.flowRatioMax;
  const ratios = reaches.map((reach) => reach?.ratio ?? -1);
  const ratio = Math.max(...ratios);
  const cavity = ratios.indexOf(ratio);
  const reach = reaches[cavity];
  const common = {
    check: 'fill-pressure',
    limit: min,
    allowed: 'at-most',
    unit: '',
    source: `flow over wall that ${polymer.symbol} reaches: ${source}`,
    basis,
    cures: [],
  } as const;
  if (!reach)
    return {
      ...common,
      verdict: 'unknown',
      situation: 'no-way-in',
      figure: null,
      margin: null,
      figures: {},
      places: [],
    };
  const isOver = ratio > min;
  return {
    ...common,
    verdict: isOver ? 'caution' : 'clear',
    situation: isOver ? 'long-for-its-wall' : 'short-for-its-wall',
    figure: ratio,
    margin: min - ratio,
    figures: {
      polymer: polymer.symbol,
      cavity: cavity + 1,
      ratio,
      lengthMm: reach.lengthMm,
      ratioMaxMin: min,
      ratioMaxMax: max,
    },
    places: isOver ? [reach.at] : [],
  };
}
