import type { FlowMeasure } from '../clamp/cavity-pressure.js';
import { straightFlowOf } from '../clamp/opening-force.js';
import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import { sprueAtStack } from '../fit/sprue-at-stack.js';
import { type Cycle, cycleOf } from '../heat/cycle.js';
import type { Polymer } from '../polymers/polymer.js';
import type { BolsterFacts, PlateFacts, PressFacts } from '../press-facts.js';
import { type FeedSystem, feedSystem } from './feed-system.js';
import { type FlowReach, flowReach } from './flow-reach.js';
import { type Section, thickestSection } from './thickest-section.js';

/** What a shot is: as the cold moulding, and as the melt the screw must bring. */
export interface Shot {
  /** Cavities, runners, gates and feed, mm3. */
  readonly mouldedMm3: number;
  readonly sprueMm3: number;
  /** Both, mm3. */
  readonly coldMm3: number;
  /** The same mass as melt, mm3. */
  readonly meltMm3: number;
  readonly massG: number;
}

/** How fast the melt is sent in. */
export interface Filling {
  readonly seconds: number;
  /** In the whole feed, cm3/s. */
  readonly flowCm3PerS: number;
  /** The press could not send it in faster. */
  readonly isCapped: boolean;
  /** By cavity, cm3/s: each its share by volume, as if all were full at the same time. */
  readonly cavityFlowCm3PerS: readonly number[];
}

/** All that the findings about melt and heat have in common, worked out once. */
export interface MeltCase {
  readonly drawing: MeasuredDrawing;
  readonly plate: PlateFacts;
  readonly polymer: Polymer;
  readonly bolster: BolsterFacts;
  readonly press: PressFacts;
  readonly feed: FeedSystem;
  /** By cavity; null where nothing leads in. */
  readonly reaches: readonly (FlowReach | null)[];
  readonly sections: readonly Section[];
  readonly shot: Shot;
  readonly filling: Filling;
  readonly cycle: Cycle;
  /** The worst cavity's flow over wall and the thinnest cavity's wall, for the pressure that opens the plate. */
  readonly flow: FlowMeasure;
}

export interface MeltInput {
  readonly drawing: MeasuredDrawing;
  readonly plate: PlateFacts;
  readonly polymer: Polymer;
  readonly bolster: BolsterFacts;
  readonly press: PressFacts;
}

/** Works out feed system, shot, filling and cycle of a plate with a polymer. */
export function meltCaseOf(input: MeltInput): MeltCase {
  const { drawing, press } = input;
  const feed = feedSystem(drawing);
  const reaches = drawing.cavities.map((cavity, i) =>
    flowReach(
      cavity,
      (feed.inlets[i] ?? []).map(({ at }) => at),
    ),
  );
  const sections = drawing.cavities.map(thickestSection);
  const shot = shotOf(input);
  const filling = fillingOf(drawing, sections, shot, press);
  const { endDiameterMm: sprueEndMm } = sprueAtStack(input.bolster, input.plate);
  const cycle = cycleOf({
    ...input,
    sections,
    inlets: feed.inlets.flat(),
    sprueEndMm,
    fillS: filling.seconds,
  });
  return { ...input, feed, reaches, sections, shot, filling, cycle, flow: flowOf(drawing, reaches) };
}

/** Where nothing leads in, the flow is measured straight from the feed. */
function flowOf({ cavities, feed }: MeasuredDrawing, reaches: readonly (FlowReach | null)[]): FlowMeasure {
  const straight = straightFlowOf(cavities, feed.at);
  const ratios = reaches.map((reach) => reach?.ratio);
  if (!ratios.every((ratio) => ratio !== undefined)) return straight;
  return { ...straight, flowRatio: Math.max(...ratios) };
}

function shotOf({ drawing, bolster, plate, polymer }: MeltInput): Shot {
  const { lengthMm, endDiameterMm } = sprueAtStack(bolster, plate);
  const startMm = bolster.sprue.nozzleEndDiameterMm;
  // A cone cut off at both ends.
  const sprueMm3 = (Math.PI / 12) * lengthMm * (startMm ** 2 + startMm * endDiameterMm + endDiameterMm ** 2);
  const coldMm3 = drawing.moulded.volumeMm3 + sprueMm3;
  const { solidDensityGPerCm3: solid, meltDensityGPerCm3: melt } = polymer;
  return {
    mouldedMm3: drawing.moulded.volumeMm3,
    sprueMm3,
    coldMm3,
    meltMm3: (coldMm3 * solid.usual) / melt.usual,
    massG: (coldMm3 / 1000) * solid.usual,
  };
}

/** Seconds for a wall of 1 mm and a shot of 8 cm3, growing with the wall and the size. Common practice, no source. */
const FILL_S_PER_MM = 0.5;
const FILL_SIZE_CM3 = 8;
export const SHORTEST_FILL_S = 0.3;

function fillingOf(
  { cavities }: MeasuredDrawing,
  sections: readonly Section[],
  shot: Shot,
  { injection }: PressFacts,
): Filling {
  const wallMm = Math.min(...sections.map(({ thicknessMm }) => thicknessMm));
  const meltCm3 = shot.meltMm3 / 1000;
  const wantedS = Math.max(SHORTEST_FILL_S, FILL_S_PER_MM * wallMm * Math.cbrt(meltCm3 / FILL_SIZE_CM3));
  const seconds = Math.max(wantedS, meltCm3 / injection.maxFlowCm3PerS);
  const flowCm3PerS = meltCm3 / seconds;
  const wholeMm3 = cavities.reduce((sum, { volumeMm3 }) => sum + volumeMm3, 0);
  return {
    seconds,
    flowCm3PerS,
    isCapped: seconds > wantedS,
    cavityFlowCm3PerS: cavities.map(({ volumeMm3 }) => (flowCm3PerS * volumeMm3) / wholeMm3),
  };
}
