import type { Cure, Finding, Step } from '../finding.js';
import { sprueAtStack } from '../fit/sprue-at-stack.js';
import { flowAt } from '../polymers/flow-at.js';
import type { FlowPoint } from '../polymers/polymer.js';
import { fillSteps, type InletFlow, inletFlows } from './check-gate-shear.js';
import { frozenLayerMm } from './frozen-layer.js';
import type { MeltCase } from './melt-case.js';
import { roundDropMpa, sideWallFactor, slitDropMpa } from './pressure-drop.js';

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
  readonly drops: readonly Drop[];
}

/** Pressure lost in one stretch of one section, less the frozen layer. */
interface Drop {
  readonly part: 'runner' | 'gate' | 'cavity';
  readonly flowCm3PerS: number;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly depthMm: number;
  readonly mpa: number;
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
  const { flow, drops, ...parts } = worst;
  const working = workingOf(melt, law, worst);
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
      working,
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
    cures: isOver ? slowerFill(melt, law) : [],
    working,
  };
}

/** Longer fills than this many times the usual one freeze first, by any practice. Common practice, no source. */
const SLOWEST_TIMES = 8;
/** Steps in which a longer fill time is looked for. */
const SLOWER_BY = 1.1;

/** The fill time from which on the press has pressure enough, where the wall stays open as long; else none. */
function slowerFill(melt: MeltCase, law: FlowPoint): readonly Cure[] {
  for (let times = SLOWER_BY; times <= SLOWEST_TIMES; times *= SLOWER_BY) {
    const worst = worstPath({ ...melt, filling: filledIn(melt, times) }, law);
    if (worst === null || worst.openMm <= 0) return [];
    if (worst.totalMpa <= melt.press.injection.maxPressureMpa) {
      const figures = { fillS: melt.filling.seconds, mpa: worst.totalMpa };
      return [{ code: 'slower-fill', amount: times * melt.filling.seconds, unit: 's', figures }];
    }
  }
  return [];
}

function filledIn({ filling }: MeltCase, times: number): MeltCase['filling'] {
  return {
    ...filling,
    seconds: times * filling.seconds,
    flowCm3PerS: filling.flowCm3PerS / times,
    cavityFlowCm3PerS: filling.cavityFlowCm3PerS.map((flow) => flow / times),
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
  const drop = (
    part: Drop['part'],
    flowCm3PerS: number,
    mm: number,
    widthMm: number,
    depthMm: number,
  ): Drop => ({
    part,
    flowCm3PerS,
    lengthMm: mm,
    widthMm,
    depthMm,
    mpa: slitDropMpa(law, flowCm3PerS, mm, widthMm, depthMm),
  });
  const runners = flow.inlet.stretches
    .filter(({ feature }) => feature === 'RUNNER' || feature === 'CAVITY')
    .map(({ place, ...one }) =>
      drop(
        'runner',
        shareThrough(melt, place),
        one.lengthMm,
        Math.max(0.1, one.widthMm - 2 * layerMm),
        Math.max(0.05, one.depthMm - 2 * layerMm),
      ),
    );
  const gates = [drop('gate', flow.flowCm3PerS, flow.inlet.landMm, flow.inlet.widthMm, flow.inlet.depthMm)];
  const meanMm = cavity ? cavity.volumeMm3 / cavity.areaMm2 : 0;
  const openMm = meanMm - 2 * layerMm;
  const cavities =
    cavity && reach && reach.lengthMm > 0 && openMm > 0
      ? [drop('cavity', flow.flowCm3PerS, reach.lengthMm, cavity.areaMm2 / reach.lengthMm, openMm)]
      : [];
  const [runnerMpa, gateMpa, cavityMpa] = [sumOf(runners), sumOf(gates), sumOf(cavities)];
  return {
    flow,
    sprueMpa,
    runnerMpa,
    gateMpa,
    cavityMpa,
    totalMpa: sprueMpa + runnerMpa + gateMpa + cavityMpa,
    openMm,
    drops: [...runners, ...gates, ...cavities].filter(({ lengthMm: mm }) => mm > 0),
  };
}

function sumOf(drops: readonly Drop[]): number {
  return drops.reduce((sum, { mpa }) => sum + mpa, 0);
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
    working: [
      {
        says: 'flow-ratio',
        figures: { cavity: cavity + 1, lengthMm: reach.lengthMm, ratio },
        source: 'the longest way in the cavity, each stretch over its own depth',
        basis: 'computed',
      },
      { says: 'ratio-limit', figures: { polymer: polymer.symbol, min, max }, source, basis },
    ],
  };
}

function workingOf(melt: MeltCase, law: FlowPoint, { drops, openMm, flow, ...path }: Path): readonly Step[] {
  const { polymer, filling, drawing, bolster, plate } = melt;
  const { exponent: n, consistencyPaSn: k, meltC } = law;
  const curve = { source: polymer.flow?.source ?? '', basis: polymer.flow?.basis ?? 'memory' } as const;
  const layerMm = frozenLayerMm(polymer, filling.seconds / 2);
  const { lengthMm, endDiameterMm } = sprueAtStack(bolster, plate);
  const [fromMm, toMm] = [bolster.sprue.nozzleEndDiameterMm / 2, endDiameterMm / 2];
  const cavity = drawing.cavities[flow.cavity];
  const meanMm = cavity ? cavity.volumeMm3 / cavity.areaMm2 : 0;
  return [
    ...fillSteps(melt),
    { says: 'law', figures: { polymer: polymer.symbol, meltC, n, k }, ...curve },
    {
      says: 'layer',
      figures: { halfS: filling.seconds / 2, layerMm },
      source: 'Carslaw and Jaeger, Conduction of Heat in Solids, section 2.4: handbook value, from memory',
      basis: 'memory',
    },
    {
      says: 'open',
      figures: { cavity: flow.cavity + 1, meanMm, layerMm, openMm },
      source: 'volume over area of the cavity',
      basis: 'computed',
    },
    {
      says: Math.abs(toMm - fromMm) < 1e-6 * fromMm ? 'sprue-straight' : 'sprue',
      figures: { n, k, flowCm3PerS: filling.flowCm3PerS, lengthMm, fromMm, toMm, mpa: path.sprueMpa },
      source: 'Imperial College London, ME4 Polymer Processing Technology, problem 3.1',
      basis: 'sourced',
    },
    ...drops.map((drop) => dropStep(law, drop)),
    {
      says: 'sum',
      figures: { ...path },
      source: 'sprue, runner, gate and cavity one after the other',
      basis: 'computed',
    },
    {
      says: 'band',
      figures: { totalMpa: path.totalMpa, within: CURVE_WITHIN, topMpa: CURVE_WITHIN * path.totalMpa },
      ...curve,
    },
  ];
}

function dropStep({ exponent: n, consistencyPaSn: k }: FlowPoint, { part, ...drop }: Drop): Step {
  const [widthMm, depthMm] = [Math.max(drop.widthMm, drop.depthMm), Math.min(drop.widthMm, drop.depthMm)];
  return {
    says: part,
    figures: { ...drop, widthMm, depthMm, n, k, sides: sideWallFactor(widthMm / depthMm) },
    source: 'slit of a power-law melt, side walls by the series of a rectangle: handbook value, from memory',
    basis: 'memory',
  };
}
