import type { Cure, Finding, Step } from '../finding.js';
import { residenceLimitMin } from '../polymers/residence-limit.js';
import type { MeltCase } from './melt-case.js';

/** A remembered limit is good to a factor of two, so that only beyond it anybody is warned. */
const REMEMBERED_WITHIN = 2;

/**
 * How long the melt stays in the barrel, minutes: what the barrel holds over what a shot takes, times the cycle.
 * Source: Umberto Catignani, Important factors and approaches to estimating residence time, Plastics Technology.
 */
export function residenceMin(barrelCm3: number, shotMeltCm3: number, cycleS: number): number {
  return ((barrelCm3 / shotMeltCm3) * cycleS) / 60;
}

/**
 * Does the melt stay in the barrel no longer than the polymer bears at its usual melt temperature? A remembered limit
 * warns only beyond twice itself. Polymers that break down on their own once they start are a known hazard: they are
 * judged at their hottest set, a published limit stops them, a remembered one cautions and stops beyond twice itself,
 * and a pause is never the cure.
 */
export function checkResidence(melt: MeltCase): Finding {
  const { polymer, press, shot, cycle } = melt;
  const { barrelShots, shotCm3 } = press.injection;
  const meltC = judgedAtC(polymer);
  const barrelCm3 = barrelShots * shotCm3;
  const minutes = residenceMin(barrelCm3, shot.meltMm3 / 1000, cycle.totalS);
  const limit = residenceLimitMin(polymer, meltC);
  const { heatSensitive, basis, source } = polymer.residence;
  const isDoubled = basis === 'memory' && !heatSensitive;
  const warned = isDoubled ? REMEMBERED_WITHIN * limit : limit;
  const isOver = minutes > warned;
  const isSurelyOver = minutes > (basis === 'sourced' ? limit : REMEMBERED_WITHIN * limit);
  const situation = isOver
    ? heatSensitive
      ? 'breaks-down'
      : isDoubled
        ? 'too-long'
        : 'over-sourced'
    : minutes > limit
      ? 'near'
      : 'within';
  return {
    check: 'residence',
    verdict: !isOver ? 'clear' : heatSensitive && isSurelyOver ? 'stop' : 'caution',
    situation,
    figure: minutes,
    limit,
    allowed: 'at-most',
    unit: 'min',
    // Between a remembered limit and its double there is neither anything to spare nor surely anything missing.
    margin: situation === 'near' ? null : limit - minutes,
    figures: {
      polymer: polymer.symbol,
      limitMin: limit,
      warnedMin: warned,
      limitBasis: basis,
      meltC,
      barrelCm3,
      meltCm3: shot.meltMm3 / 1000,
      cycleS: cycle.totalS,
      coolS: cycle.coolS,
      dryS: cycle.dryS,
      fillS: cycle.fillS,
      fumes: polymer.fumes.kinds.join(', '),
    },
    places: [],
    cures: isOver ? [largerShot(melt, barrelCm3, warned)] : [],
    working: workingOf(melt, barrelCm3, minutes, limit, warned),
    source: `stay that ${polymer.symbol} bears: ${source}`,
    basis,
  };
}

/** The melt temperature it is judged at: the hottest set's where the melt breaks down by itself. */
function judgedAtC({ residence, temperatures: { sets } }: MeltCase['polymer']): number {
  return residence.heatSensitive ? sets[2].meltC : sets[1].meltC;
}

function largerShot({ shot, cycle }: MeltCase, barrelCm3: number, limitMin: number): Cure {
  const neededMeltCm3 = (barrelCm3 * cycle.totalS) / 60 / limitMin;
  const amount = (neededMeltCm3 * shot.coldMm3) / shot.meltMm3;
  return { code: 'larger-shot', amount, unit: 'cm3', figures: { coldCm3: shot.coldMm3 / 1000 } };
}

function workingOf(
  { polymer, press, shot, cycle }: MeltCase,
  barrelCm3: number,
  minutes: number,
  limitMin: number,
  warnedMin: number,
): readonly Step[] {
  const { barrelShots, shotCm3 } = press.injection;
  const meltC = judgedAtC(polymer);
  const { source, basis } = polymer.residence;
  const meltCm3 = shot.meltMm3 / 1000;
  const limit = { polymer: polymer.symbol, meltC, limitMin };
  return [
    {
      says: 'barrel',
      figures: { barrelShots, shotCm3, barrelCm3 },
      source: "the press's barrel and rated shot",
      basis: 'machine',
    },
    {
      says: 'cycle',
      figures: { dryS: cycle.dryS, fillS: cycle.fillS, coolS: cycle.coolS, cycleS: cycle.totalS },
      source: 'cooling as in the finding on cooling',
      basis: 'computed',
    },
    {
      says: 'stay',
      figures: { barrelCm3, meltCm3, cycleS: cycle.totalS, minutes },
      source:
        'Umberto Catignani, Important factors and approaches to estimating residence time, Plastics Technology',
      basis: 'sourced',
    },
    { says: 'limit', figures: limit, source, basis },
    ...(warnedMin === limitMin
      ? []
      : [
          {
            says: 'warned',
            figures: { limitMin, times: REMEMBERED_WITHIN, warnedMin },
            source: 'common practice, no source',
            basis: 'practice',
          } as const,
        ]),
  ];
}
