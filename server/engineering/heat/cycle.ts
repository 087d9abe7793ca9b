import type { Inlet } from '../melt/feed-system.js';
import type { Section } from '../melt/thickest-section.js';
import type { Polymer, TemperatureSet } from '../polymers/polymer.js';
import type { PressFacts } from '../press-facts.js';
import { type CooledShape, coolingTimeS } from './cooling-time.js';

/** One shot from closing to closing, s. Holding is part of cooling: the longer of the two counts. */
export interface Cycle {
  readonly dryS: number;
  /** The press says so; otherwise it is taken as usual. */
  readonly isDryKnown: boolean;
  readonly fillS: number;
  readonly holdS: number;
  /** Until part, runner and sprue can all be taken out. */
  readonly coolS: number;
  readonly partCoolS: number;
  /** What takes the longest. */
  readonly governedBy: 'part' | 'runner' | 'sprue';
  /** The shape of that. */
  readonly governing: CooledShape;
  readonly totalS: number;
}

/** To close, open and take small parts out by hand, where the press does not say. Common practice, no source. */
const USUAL_DRY_S = 10;
/** Pressure is held this much longer than the gate takes to freeze. Common practice, no source. */
const HOLD_AFTER_FREEZE_S = 1;

/** What a cycle is worked out from. Sizes mm. */
export interface CycleGround {
  readonly polymer: Polymer;
  readonly press: Pick<PressFacts, 'dryCycleS'>;
  readonly sections: readonly Section[];
  readonly inlets: readonly Inlet[];
  /** Where the sprue meets the plate, its thickest place. */
  readonly sprueEndMm: number;
  readonly fillS: number;
}

/** The cycle of a plate with a polymer at its usual temperatures; cooling of whatever takes the longest. */
export function cycleOf({ polymer, press, sections, inlets, sprueEndMm, fillS }: CycleGround): Cycle {
  const [, usual] = polymer.temperatures.sets;
  const sprue = { kind: 'rod', diameterMm: sprueEndMm } as const;
  const part = slowestOf(sections.map(barOf), (shape) =>
    coolingTimeS(shape, caseOf(polymer, usual), 'centre'),
  );
  const runner = slowestOf(runnersOf(inlets).map(barOf), (shape) => skinS(shape, polymer, usual));
  const sprueS = skinS(sprue, polymer, usual);
  const partCoolS = part?.seconds ?? 0;
  const coolS = Math.max(partCoolS, runner?.seconds ?? 0, sprueS);
  const freezingS = Math.max(0, ...inlets.map((inlet) => gateFreezingS(inlet, polymer, usual)));
  const holdS = Math.min(coolS, HOLD_AFTER_FREEZE_S + freezingS);
  const dryS = press.dryCycleS ?? USUAL_DRY_S;
  return {
    dryS,
    isDryKnown: press.dryCycleS !== null,
    fillS,
    holdS,
    coolS,
    partCoolS,
    governedBy: coolS === partCoolS ? 'part' : coolS === runner?.seconds ? 'runner' : 'sprue',
    governing:
      (coolS === partCoolS ? part?.shape : coolS === runner?.seconds ? runner?.shape : undefined) ?? sprue,
    totalS: dryS + fillS + coolS,
  };
}

function runnersOf(inlets: readonly Inlet[]) {
  return inlets.flatMap(({ stretches }) => stretches.filter(({ feature }) => feature === 'RUNNER'));
}

function barOf({ depthMm, widthMm }: { readonly depthMm: number; readonly widthMm: number }): CooledShape {
  return { kind: 'bar', thicknessMm: depthMm, widthMm };
}

function slowestOf(shapes: readonly CooledShape[], seconds: (shape: CooledShape) => number) {
  const all = shapes.map((shape) => ({ shape, seconds: seconds(shape) }));
  return all.reduce<(typeof all)[number] | null>(
    (slowest, next) => (slowest !== null && slowest.seconds >= next.seconds ? slowest : next),
    null,
  );
}

function caseOf(polymer: Polymer, { meltC, mouldC, ejectionC }: TemperatureSet) {
  return { diffusivityMm2PerS: polymer.diffusivityMm2PerS.usual, meltC, mouldC, ejectionC };
}

/** Until runner or sprue is firm enough to be gripped: its mean at ejection, s. */
function skinS(shape: CooledShape, polymer: Polymer, set: TemperatureSet): number {
  return coolingTimeS(shape, caseOf(polymer, set), 'average');
}

/** Until the middle of a section can be taken out, s; a bar through all four of its sides. */
export function sectionCoolingS(
  section: Pick<Section, 'depthMm' | 'widthMm'>,
  polymer: Polymer,
  set: TemperatureSet,
): number {
  return coolingTimeS(barOf(section), caseOf(polymer, set), 'centre');
}

/** Until melt no longer gets through a gate, s. */
function gateFreezingS(
  { depthMm, widthMm }: Inlet,
  polymer: Polymer,
  { meltC, mouldC }: TemperatureSet,
): number {
  const diffusivityMm2PerS = polymer.diffusivityMm2PerS.usual;
  const ejectionC = polymer.temperatures.noFlowC.usual;
  const bar = { kind: 'bar', thicknessMm: depthMm, widthMm } as const;
  return coolingTimeS(bar, { diffusivityMm2PerS, meltC, mouldC, ejectionC }, 'centre');
}
