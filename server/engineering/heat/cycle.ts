import type { Inlet } from '../melt/feed-system.js';
import type { Section } from '../melt/thickest-section.js';
import type { Polymer, TemperatureSet } from '../polymers/polymer.js';
import type { PressFacts } from '../press-facts.js';
import { coolingTimeS } from './cooling-time.js';

/** One shot from closing to closing, s. Holding is part of cooling: the longer of the two counts. */
export interface Cycle {
  readonly dryS: number;
  /** The press says so; otherwise it is taken as usual. */
  readonly isDryKnown: boolean;
  readonly fillS: number;
  readonly holdS: number;
  readonly coolS: number;
  readonly totalS: number;
}

/** To close, open and take small parts out by hand, where the press does not say. Common practice, no source. */
const USUAL_DRY_S = 10;
/** Pressure is held this much longer than the gate takes to freeze. Common practice, no source. */
const HOLD_AFTER_FREEZE_S = 1;

/** The cycle of a plate with a polymer at its usual temperatures; cooling of the slowest section, to its middle. */
export function cycleOf({
  polymer,
  press,
  sections,
  inlets,
  fillS,
}: {
  readonly polymer: Polymer;
  readonly press: Pick<PressFacts, 'dryCycleS'>;
  readonly sections: readonly Section[];
  readonly inlets: readonly Inlet[];
  readonly fillS: number;
}): Cycle {
  const [, usual] = polymer.temperatures.sets;
  const coolS = Math.max(0, ...sections.map((section) => sectionCoolingS(section, polymer, usual)));
  const holdS = Math.min(
    coolS,
    HOLD_AFTER_FREEZE_S + Math.max(0, ...inlets.map((inlet) => freezingS(inlet, polymer, usual))),
  );
  const dryS = press.dryCycleS ?? USUAL_DRY_S;
  return {
    dryS,
    isDryKnown: press.dryCycleS !== null,
    fillS,
    holdS,
    coolS,
    totalS: dryS + fillS + Math.max(holdS, coolS),
  };
}

/** Until the middle of a section can be taken out, s; a bar through all four of its sides. */
export function sectionCoolingS(
  { depthMm, widthMm }: Pick<Section, 'depthMm' | 'widthMm'>,
  polymer: Polymer,
  { meltC, mouldC, ejectionC }: TemperatureSet,
): number {
  const diffusivityMm2PerS = polymer.diffusivityMm2PerS.usual;
  const bar = { kind: 'bar', thicknessMm: depthMm, widthMm } as const;
  return coolingTimeS(bar, { diffusivityMm2PerS, meltC, mouldC, ejectionC }, 'centre');
}

/** Until melt no longer gets through a gate, s. */
function freezingS({ depthMm, widthMm }: Inlet, polymer: Polymer, { meltC, mouldC }: TemperatureSet): number {
  const diffusivityMm2PerS = polymer.diffusivityMm2PerS.usual;
  const ejectionC = polymer.temperatures.noFlowC.usual;
  const bar = { kind: 'bar', thicknessMm: depthMm, widthMm } as const;
  return coolingTimeS(bar, { diffusivityMm2PerS, meltC, mouldC, ejectionC }, 'centre');
}
