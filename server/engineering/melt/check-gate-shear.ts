import type { Cure, Finding } from '../finding.js';
import type { Inlet } from './feed-system.js';
import type { MeltCase } from './melt-case.js';
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
    const letThrough = inlets.map(
      ({ widthMm, depthMm, landMm }) => (widthMm * depthMm ** 3) / Math.max(landMm, 0.5),
    );
    const whole = letThrough.reduce((sum, one) => sum + one, 0);
    const flow = filling.cavityFlowCm3PerS[cavity] as number;
    return inlets.map((inlet, i) => ({
      inlet,
      cavity,
      flowCm3PerS: (flow * (letThrough[i] as number)) / whole,
    }));
  });
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
    cures: isOver ? [deeper(inlet, flowCm3PerS, limit.value), slower(melt, shearPerS / limit.value)] : [],
  };
}

/** Depths are given to the 0.05 mm that a mill is set to. */
const STEP_MM = 0.05;

function deeper({ at, widthMm, depthMm }: Inlet, flowCm3PerS: number, limitPerS: number): Cure {
  let enoughMm = depthMm;
  while (gateShearPerS(flowCm3PerS, widthMm, enoughMm) > limitPerS) enoughMm += STEP_MM;
  const amount = Math.ceil(enoughMm / STEP_MM - 1e-9) * STEP_MM;
  return { code: 'deeper-gate', amount, unit: 'mm', figures: { depthMm, widthMm }, at };
}

function slower({ filling }: MeltCase, times: number): Cure {
  const amount = filling.seconds * times;
  return { code: 'slower-fill', amount, unit: 's', figures: { fillS: filling.seconds } };
}
