import type { Cure, Finding } from '../finding.js';
import type { MeltCase } from '../melt/melt-case.js';
import type { CheckRules } from '../press-facts.js';
import { dewPointC } from './dew-point.js';
import { ceilingOf } from './plate-ceiling.js';
import { minutesTo, type PlateWarming, plateAfterC, plateWarming } from './plate-warming.js';
import { warmingWorking } from './warming-working.js';

/** What is known of the run a plate is checked for. */
export interface RunFacts {
  /** Null: not said. */
  readonly shots: number | null;
  /** Chilled water through the plate's own channels. */
  readonly chiller: boolean;
}

export const UNKNOWN_RUN: RunFacts = { shots: null, chiller: false };

/** Smooth bare metal burns skin that touches it for a second from here on, deg C: ISO 13732-1, table 1; handbook value, from memory. */
const SKIN_C = 65;
/** The same for skin that holds it for ten seconds, deg C: ISO 13732-1; handbook value, from memory. */
const HANDLING_C = 55;
/** Room air is taken this moist, percent. Common practice, no source. */
const USUAL_HUMIDITY_PERCENT = 60;
/** A curve of this many points draws well. */
const CURVE_POINTS = 37;
/** Longer pauses after every shot are no help to anybody, s. */
const LONGEST_PAUSE_S = 120;

/**
 * Does the plate stay cool enough to mould on, warm enough for the resin, and safe to touch? Contacts and air are
 * known to a factor of two, so nothing here stops a plate; without a number of shots it only gives the minutes.
 */
export function checkPlateWarming(melt: MeltCase, rules: Pick<CheckRules, 'roomC'>, run: RunFacts): Finding {
  const chilledC = melt.drawing.water.length > 0 ? (melt.press.chiller?.waterC ?? null) : null;
  const waterC = run.chiller ? chilledC : null;
  const air = { roomC: rules.roomC, pauseS: 0 };
  const warming = plateWarming(melt, { ...air, waterC });
  const { mouldFloorC } = melt.polymer.temperatures;
  const ceiling = ceilingOf(melt.polymer);
  const runMin = run.shots === null ? null : (run.shots * melt.cycle.totalS) / 60;
  const hottestC = runMin === null ? warming.steadyPlateC : plateAfterC(warming, runMin);
  const figures = {
    ...facts(melt, warming, rules, run, waterC),
    hottestC,
    ...known({ runMin }),
    chiller: chillerOf(melt, run),
    curveMin: sampled(warming.minutes),
    curvePlateC: sampled(warming.plateC),
    ...(chilledC !== null && {
      curveOtherC: sampled(otherWay(melt, air, waterC, chilledC).plateC),
      chilledC,
    }),
  };
  const common = {
    check: 'plate-warming',
    figures,
    places: [],
    working: warmingWorking(melt, warming),
    source: `highest plate temperature for ${melt.polymer.symbol}: ${ceiling.source}; contacts and still air: handbook value, from memory`,
    basis: 'memory',
  } as const;
  if (waterC !== null && waterC < dewPointC(rules.roomC, USUAL_HUMIDITY_PERCENT)) {
    const dewC = dewPointC(rules.roomC, USUAL_HUMIDITY_PERCENT);
    return {
      ...common,
      verdict: 'caution',
      situation: 'wet',
      figure: waterC,
      limit: dewC,
      allowed: 'at-least',
      unit: 'C',
      margin: waterC - dewC,
      cures: [],
    };
  }
  if (runMin === null) return { ...common, ...minutesOnly(warming, ceiling.celsius) };
  const atMost = {
    figure: hottestC,
    limit: ceiling.celsius,
    allowed: 'at-most',
    unit: 'C',
    margin: ceiling.celsius - hottestC,
  } as const;
  if (hottestC > ceiling.celsius) {
    return {
      ...common,
      ...atMost,
      verdict: 'caution',
      situation: 'over-ceiling',
      cures: coolingCures(melt, rules, run, warming, ceiling.celsius),
    };
  }
  if (mouldFloorC !== null && hottestC < mouldFloorC.value) {
    return {
      ...common,
      verdict: 'caution',
      situation: 'too-cold',
      figure: hottestC,
      limit: mouldFloorC.value,
      allowed: 'at-least',
      unit: 'C',
      margin: hottestC - mouldFloorC.value,
      cures: [],
    };
  }
  const isHot = hottestC > SKIN_C;
  return {
    ...common,
    ...atMost,
    verdict: isHot ? 'caution' : 'clear',
    situation: isHot ? 'hot-to-touch' : 'stays-cool',
    cures: [],
  };
}

/** With the chiller what is without, and the other way round: to be drawn beside it. */
function otherWay(
  melt: MeltCase,
  air: { readonly roomC: number; readonly pauseS: number },
  waterC: number | null,
  chilledC: number,
): PlateWarming {
  return plateWarming(melt, { ...air, waterC: waterC === null ? chilledC : null });
}

/** Whether the chiller that was asked for can run. */
function chillerOf(
  { drawing, press }: MeltCase,
  run: RunFacts,
): 'off' | 'runs' | 'no-channels' | 'no-chiller' {
  if (!run.chiller) return 'off';
  if (drawing.water.length === 0) return 'no-channels';
  return press.chiller === null ? 'no-chiller' : 'runs';
}

function facts(
  melt: MeltCase,
  warming: PlateWarming,
  { roomC }: Pick<CheckRules, 'roomC'>,
  { shots }: RunFacts,
  waterC: number | null,
) {
  const { polymer } = melt;
  const { mouldFloorC, sets } = polymer.temperatures;
  const ceiling = ceilingOf(polymer);
  const [, { ejectionC, state }] = sets;
  const floorMin = mouldFloorC === null ? null : minutesTo(warming, mouldFloorC.value);
  return {
    polymer: polymer.symbol,
    sensitive: polymer.residence.heatSensitive ? 1 : 0,
    alloy: melt.plate.alloy,
    roomC,
    skinC: SKIN_C,
    handlingC: HANDLING_C,
    ceilingC: ceiling.celsius,
    ceilingBy: ceiling.by,
    ejectionC,
    ...(state !== undefined && { state }),
    heatPerShotJ: warming.heatPerShotJ,
    meanW: warming.meanW,
    cycleS: melt.cycle.totalS,
    steadyC: warming.steadyPlateC,
    ...known({
      shots,
      waterC,
      floorC: mouldFloorC?.value ?? null,
      ceilingMin: minutesTo(warming, ceiling.celsius),
      skinMin: minutesTo(warming, SKIN_C),
      handlingMin: minutesTo(warming, HANDLING_C),
      floorMin,
      // Until the plate is warm enough; what they give goes to the regrind.
      warmUpShots: floorMin === null ? null : Math.ceil((floorMin * 60) / melt.cycle.totalS),
    }),
  };
}

/** Figures that are there; the rest is left out. */
function known(figures: { readonly [name: string]: number | null }): { readonly [name: string]: number } {
  return Object.fromEntries(
    Object.entries(figures).filter((entry): entry is [string, number] => entry[1] !== null),
  );
}

function minutesOnly(warming: PlateWarming, ceilingC: number) {
  const limits = [minutesTo(warming, ceilingC), minutesTo(warming, SKIN_C)].filter(
    (minutes) => minutes !== null,
  );
  const figure = limits.length === 0 ? null : Math.min(...limits);
  return {
    verdict: 'clear',
    situation: figure === null ? 'stays-below' : 'minutes-to-limits',
    figure,
    limit: null,
    allowed: null,
    unit: 'min',
    margin: null,
    cures: [],
  } as const;
}

/**
 * The chiller where the plate has channels, and the pause after every shot that keeps the plate below its ceiling: none
 * for a melt that breaks down while it waits. Where no pause helps or is allowed, the shots until the ceiling.
 */
function coolingCures(
  melt: MeltCase,
  { roomC }: Pick<CheckRules, 'roomC'>,
  run: RunFacts,
  warming: PlateWarming,
  ceilingC: number,
): readonly Cure[] {
  const steadyAt = (pauseS: number, waterC: number | null) =>
    plateWarming(melt, { roomC, pauseS, waterC }).steadyPlateC;
  const waterC = melt.press.chiller?.waterC ?? null;
  const water: readonly Cure[] =
    !run.chiller && waterC !== null && melt.drawing.water.length > 0
      ? [{ code: 'use-chiller', amount: steadyAt(0, waterC), unit: 'C', figures: { waterC } }]
      : [];
  if (melt.polymer.residence.heatSensitive || steadyAt(LONGEST_PAUSE_S, null) > ceilingC) {
    const shots = Math.floor(((minutesTo(warming, ceilingC) ?? 0) * 60) / melt.cycle.totalS);
    return shots < 1 ? water : [...water, { code: 'fewer-shots', amount: shots, unit: '', figures: {} }];
  }
  let [short, long] = [0, LONGEST_PAUSE_S];
  for (let halving = 0; halving < 10; halving++) {
    const middle = (short + long) / 2;
    if (steadyAt(middle, null) > ceilingC) short = middle;
    else long = middle;
  }
  const pauseS = Math.ceil(long);
  return [
    ...water,
    { code: 'pause', amount: pauseS, unit: 's', figures: { cycleS: melt.cycle.totalS + pauseS } },
  ];
}

/** Closer together where the curve bends, in its first minutes. */
function sampled(values: readonly number[]): readonly number[] {
  const last = values.length - 1;
  return Array.from({ length: CURVE_POINTS }, (_, i) => {
    const at = Math.round(last * (i / (CURVE_POINTS - 1)) ** 2);
    return Math.round((values[at] as number) * 10) / 10;
  });
}
