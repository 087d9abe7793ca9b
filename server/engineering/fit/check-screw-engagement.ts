import type { Cure, Finding, Step } from '../finding.js';
import { shearStrengthMpa } from '../materials/alloys.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { type Engagement, engagementRule, engagements, rightScrewLengthMm } from './engagement.js';
import { CAP_SCREWS } from './fasteners/iso-4762-screws.js';
import { outlastingEngagementMm } from './fasteners/thread-strength.js';
import { upToTenth } from './plate-with.js';
import { worstOfGroups } from './screw-groups.js';
import { knownScrew, NO_SCREWS, type ScrewSeat, type ScrewsInput, screwSeats } from './screw-seats.js';

/**
 * Do the screws hold? Thread engaged = length - (thickness - sink) - packer, judged at every hole: at least 1.0 d in
 * steel or 1.5 d in anything softer, and never deeper than the hole is tapped, where the screw would bottom before
 * its head seats. All mm.
 */
export function checkScrewEngagement({ drawing, plate, bolster, registration }: ScrewsInput): Finding {
  const seats = screwSeats(drawing, plate, bolster, registration);
  return worstOfGroups(plate, seats, (own, ofGroup) => engagementFinding(own, ofGroup, bolster));
}

/** The finding of seats that all have the plate's one screw. */
function engagementFinding(seats: readonly ScrewSeat[], plate: PlateFacts, bolster: BolsterFacts): Finding {
  const all = engagements(seats, plate, bolster);
  const worst = all[0];
  const rule = engagementRule(bolster);
  const common = { check: 'screw-engagement', unit: 'mm', source: rule.source, basis: 'sourced' } as const;
  if (worst === undefined) {
    return { ...common, ...NO_SCREWS };
  }
  const failing = all.filter(({ marginMm }) => marginMm < 0);
  const situation = situationOf(worst);
  return {
    ...common,
    verdict: failing.length > 0 ? 'stop' : 'clear',
    situation,
    figure: worst.engagedMm,
    limit: { min: worst.leastMm, max: worst.mostMm },
    allowed: 'between',
    margin: worst.marginMm,
    figures: {
      screwSize: plate.screw.size,
      screwLengthMm: plate.screw.lengthMm,
      bridgedMm: plate.screw.lengthMm - worst.engagedMm,
      thicknessMm: plate.thicknessMm,
      sinkDepthMm: worst.seat.sinkDepthMm,
      packerThicknessMm: plate.packerThicknessMm,
      timesDiameter: rule.timesDiameter,
      holeNumber: worst.seat.bolt + 1,
      screws: all.length,
      failing: failing.length,
      faceMaterial: bolster.faceMaterial,
      ...(worst.mostMm !== null && { tappedDepthMm: worst.mostMm }),
      ...outlasting(plate, bolster),
      ...(failing.length === 0 && standardInstead(seats, plate, bolster)),
    },
    places: failing.map(({ seat }) => seat.at),
    cures: failing.length === 0 ? [] : cures(seats, plate, bolster, worst),
    working: workingOf(worst, plate, rule),
  };
}

/** A length that nobody sells: the nearest standard one that holds as well, 0 when none does. */
function standardInstead(
  seats: readonly ScrewSeat[],
  plate: PlateFacts,
  bolster: BolsterFacts,
): Finding['figures'] {
  if (CAP_SCREWS[knownScrew(plate)].lengthsMm.includes(plate.screw.lengthMm)) return {};
  const standardLengthMm = rightScrewLengthMm(seats, plate, bolster) ?? 0;
  const changed = { ...plate, screw: { ...plate.screw, lengthMm: standardLengthMm } };
  return { standardLengthMm, standardEngagedMm: engagements(seats, changed, bolster)[0]?.engagedMm ?? 0 };
}

/** In the one alloy whose thread strength is known: from where on the thread outlasts an 8.8 screw. */
function outlasting(plate: PlateFacts, { faceMaterial }: BolsterFacts): Finding['figures'] {
  if (faceMaterial !== 'EN AW-6082-T6') return {};
  const outlastsMm = outlastingEngagementMm(knownScrew(plate), '8.8', shearStrengthMpa(faceMaterial));
  return outlastsMm === null ? {} : { outlastsMm };
}

function situationOf({ marginMm, engagedMm, leastMm }: Engagement): string {
  if (marginMm >= 0) return 'engages';
  if (engagedMm <= 0) return 'does-not-reach';
  return engagedMm < leastMm ? 'too-short' : 'bottoms';
}

function cures(
  seats: readonly ScrewSeat[],
  plate: PlateFacts,
  bolster: BolsterFacts,
  worst: Engagement,
): readonly Cure[] {
  const lengthMm = rightScrewLengthMm(seats, plate, bolster);
  if (lengthMm !== null) return [screwLength(seats, plate, bolster, lengthMm)];
  return [...deeperSink(seats, plate, bolster), ...sameSink(seats, plate), ...deeperTapping(worst)];
}

function screwLength(
  seats: readonly ScrewSeat[],
  plate: PlateFacts,
  bolster: BolsterFacts,
  lengthMm: number,
): Cure {
  const changed = { ...plate, screw: { ...plate.screw, lengthMm } };
  const engagedMm = engagements(seats, changed, bolster)[0]?.engagedMm ?? 0;
  return {
    code: 'screw-length',
    amount: lengthMm,
    unit: 'mm',
    figures: { screwSize: plate.screw.size, engagedMm },
    change: { screwLengthMm: lengthMm },
  };
}

/** With one sink for all screws: the least deeper sink at which a standard length suits. */
function deeperSink(seats: readonly ScrewSeat[], plate: PlateFacts, bolster: BolsterFacts): readonly Cure[] {
  if (seats.some((seat) => seat.sinkDrawn)) return [];
  const { headHeightMm, lengthsMm } = CAP_SCREWS[knownScrew(plate)];
  const from = upToTenth(Math.max(headHeightMm, plate.screw.headSinkDepthMm ?? 0));
  for (let sinkDepthMm = from; sinkDepthMm < plate.thicknessMm; sinkDepthMm = upToTenth(sinkDepthMm + 0.1)) {
    for (const lengthMm of lengthsMm) {
      const changed = {
        ...plate,
        screw: { ...plate.screw, lengthMm, headSinkDepthMm: sinkDepthMm },
      };
      const all = engagements(
        seats.map((seat) => ({ ...seat, sinkDepthMm })),
        changed,
        bolster,
      );
      if (all.some(({ marginMm }) => marginMm < 0)) continue;
      return [
        {
          code: 'deeper-sink',
          amount: sinkDepthMm,
          unit: 'mm',
          figures: {
            screwSize: plate.screw.size,
            screwLengthMm: lengthMm,
            engagedMm: all[0]?.engagedMm ?? 0,
          },
          change: { headSinkDepthMm: sinkDepthMm, screwLengthMm: lengthMm },
        },
      ];
    }
  }
  return [];
}

/** Sinks of unequal depth that no one length suits want to be drawn alike. */
function sameSink(seats: readonly ScrewSeat[], { screw }: PlateFacts): readonly Cure[] {
  const depths = seats.map((seat) => seat.sinkDepthMm);
  const deepest = Math.max(...depths);
  if (deepest - Math.min(...depths) < 0.05) return [];
  return [{ code: 'same-sink', amount: deepest, unit: 'mm', figures: { screwSize: screw.size } }];
}

function deeperTapping({ seat, leastMm, mostMm }: Engagement): readonly Cure[] {
  if (mostMm === null || mostMm >= leastMm) return [];
  return [
    { code: 'tap-deeper', amount: leastMm, unit: 'mm', figures: { tappedDepthMm: mostMm }, at: seat.at },
  ];
}

function workingOf(
  { engagedMm, leastMm, mostMm, seat }: Engagement,
  { thicknessMm, packerThicknessMm, screw }: PlateFacts,
  { timesDiameter, source }: ReturnType<typeof engagementRule>,
): readonly Step[] {
  const given = { source: 'lengths as given and drawn', basis: 'computed' } as const;
  const { sinkDepthMm } = seat;
  const bridgedMm = screw.lengthMm - engagedMm;
  return [
    { says: 'bridged', figures: { thicknessMm, sinkDepthMm, packerThicknessMm, bridgedMm }, ...given },
    { says: 'engaged', figures: { lengthMm: screw.lengthMm, bridgedMm, engagedMm }, ...given },
    {
      says: 'least',
      figures: { timesDiameter, screwMm: leastMm / timesDiameter, leastMm },
      source,
      basis: 'sourced',
    },
    ...(mostMm === null
      ? []
      : [{ says: 'most', figures: { mostMm }, source: 'the bolster’s record', basis: 'machine' } as const]),
  ];
}
