import type { Cure, Finding, PlateChange } from '../finding.js';
import { ALLOY_FACTS, proofStressOf, shearStrengthMpa } from '../materials/alloys.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { screwForChange } from './engagement.js';
import { threadDiameterMm } from './fasteners/iso-261-threads.js';
import { CAP_SCREWS, CAP_SCREWS_SOURCE, type CapScrew } from './fasteners/iso-4762-screws.js';
import {
  bearingAreaMm2,
  headPressureMpa,
  headPunchesThroughN,
  headShearMpa,
  torqueNm,
  usualPreloadN,
  WRENCH_SCATTER,
} from './fasteners/tightening.js';
import { plateWith, upToTenth } from './plate-with.js';
import { worstOfGroups } from './screw-groups.js';
import { knownScrew, NO_SCREWS, type ScrewSeat, type ScrewsInput, screwSeats } from './screw-seats.js';

/** Least metal under a head, in screw diameters. Common practice, no source. */
const METAL_UNDER_HEAD = 0.5;

/**
 * The least share of the usual tightening force at which a screw still holds anything: a head that shears through at
 * this is a stop, as then even half of what everybody puts on a screw lets the plate go. Common practice, no source.
 */
const LEAST_USEFUL = 0.5;

/** What can be wrong with a head, the worst first. */
const FAULTS = [
  'sink-through',
  'head-proud',
  'sink-narrow',
  'head-through-hole',
  'head-shears',
  'little-metal',
  'sink-tight',
  'hole-wide',
] as const;

type Fault = (typeof FAULTS)[number];

const STOPS: readonly Fault[] = [
  'sink-through',
  'head-proud',
  'sink-narrow',
  'head-through-hole',
  'head-shears',
];

interface Judged {
  readonly fault: Fault | 'sunk';
  readonly figure: number;
  readonly limit: number;
  readonly allowed: 'at-least' | 'at-most';
}

/**
 * Do the heads lie below the parting face, seat, and have metal under them? ISO 4762 head height and diameter against
 * each hole's sink; the screw stands off its hole's middle by the registration's error. Metal so thin that a head
 * shears through it at half its usual force is a stop. The torque figures are advice: at the usual torque the head
 * pressure p = F / (pi/4 (dw2 - dh2)) against the plate's proof stress, and the shear F / (pi dw u) under the head,
 * with what a wrench may be off, against its shear strength. mm, N m, MPa.
 */
export function checkScrewHeads({ drawing, plate, bolster, registration }: ScrewsInput): Finding {
  const seats = screwSeats(drawing, plate, bolster, registration);
  return worstOfGroups(plate, seats, (own, ofGroup) => headsFinding(own, ofGroup, bolster));
}

/** The finding of seats that all have the plate's one screw. */
function headsFinding(seats: readonly ScrewSeat[], plate: PlateFacts, bolster: BolsterFacts): Finding {
  const screw = CAP_SCREWS[knownScrew(plate)];
  const judged = seats.map((seat) => ({ seat, ...judge(seat, plate, screw) }));
  const worst = judged.reduce<(typeof judged)[number] | null>(
    (worst, one) => (worst === null || isWorse(one, worst) ? one : worst),
    null,
  );
  const common = { check: 'screw-heads', source: CAP_SCREWS_SOURCE, unit: 'mm' } as const;
  if (worst === null) return { ...common, ...NO_SCREWS, basis: 'sourced' };
  const failing = judged.filter(({ fault }) => fault !== 'sunk');
  return {
    ...common,
    ...groundsOf(worst.fault, plate),
    verdict: verdictOf(worst.fault),
    situation: worst.fault,
    figure: worst.figure,
    limit: worst.limit,
    allowed: worst.allowed,
    margin: marginOf(worst),
    figures: {
      screwSize: plate.screw.size,
      headHeightMm: screw.headHeightMm,
      headDiameterMm: screw.headDiameterMm,
      sinkDepthMm: worst.seat.sinkDepthMm,
      ...(worst.seat.sinkDiameterMm !== null && { sinkDiameterMm: worst.seat.sinkDiameterMm }),
      metalUnderHeadMm: plate.thicknessMm - worst.seat.sinkDepthMm,
      holeDiameterMm: worst.seat.holeDiameterMm,
      holeNumber: worst.seat.bolt + 1,
      holeNumbers: failing.map(({ seat }) => seat.bolt + 1),
      screws: seats.length,
      failing: failing.length,
      ...torqueFigures(seats, plate),
    },
    places: [...failing].sort((one, other) => (isWorse(one, other) ? -1 : 1)).map(({ seat }) => seat.at),
    cures: failing.length === 0 ? [] : curesFor(seats, plate, bolster, screw, worst.fault),
  };
}

function verdictOf(fault: Judged['fault']): Finding['verdict'] {
  if (fault === 'sunk') return 'clear';
  return STOPS.includes(fault) ? 'stop' : 'caution';
}

function groundsOf(fault: Judged['fault'], { alloy }: PlateFacts): Pick<Finding, 'source' | 'basis'> {
  if (fault === 'little-metal') return { source: 'common practice, no source', basis: 'practice' };
  if (fault !== 'head-shears') return { source: CAP_SCREWS_SOURCE, basis: 'sourced' };
  const { source, basis } = ALLOY_FACTS[alloy].tensileMpa;
  return { source: `F / (π dw u) against 0.6 Rm (common practice, no source); Rm: ${source}`, basis };
}

function judge(seat: ScrewSeat, plate: PlateFacts, screw: CapScrew): Judged {
  const screwMm = threadDiameterMm(plate.screw.size) ?? 0;
  const underMm = plate.thicknessMm - seat.sinkDepthMm;
  const leastUnderMm = METAL_UNDER_HEAD * screwMm;
  const { headHeightMm, headDiameterMm, knurledHeadDiameterMm } = screw;
  const widestHoleMm = (screwMm + headDiameterMm) / 2;
  const sinkMm = seat.sinkDiameterMm ?? 0;
  const clears = (headMm: number) => sinkMm >= headMm + 2 * seat.offCentreMm - 1e-6;
  const depth = { figure: seat.sinkDepthMm, limit: headHeightMm, allowed: 'at-least' } as const;
  const metal = { figure: underMm, limit: leastUnderMm, allowed: 'at-least' } as const;
  const wide = (headMm: number) =>
    ({ figure: sinkMm, limit: headMm + 2 * seat.offCentreMm, allowed: 'at-least' }) as const;
  const hole = (limit: number) => ({ figure: seat.holeDiameterMm, limit, allowed: 'at-most' }) as const;
  if (underMm <= 0) return { fault: 'sink-through', ...metal };
  if (seat.sinkDepthMm < headHeightMm - 1e-6) return { fault: 'head-proud', ...depth };
  if (!clears(headDiameterMm)) return { fault: 'sink-narrow', ...wide(headDiameterMm) };
  if (seat.holeDiameterMm >= headDiameterMm) return { fault: 'head-through-hole', ...hole(widestHoleMm) };
  if (shearsThrough(underMm, plate)) return { fault: 'head-shears', ...metal };
  if (underMm < leastUnderMm - 1e-6) return { fault: 'little-metal', ...metal };
  if (!clears(knurledHeadDiameterMm)) return { fault: 'sink-tight', ...wide(knurledHeadDiameterMm) };
  if (seat.holeDiameterMm > widestHoleMm + 1e-6) return { fault: 'hole-wide', ...hole(widestHoleMm) };
  return { fault: 'sunk', ...depth };
}

/** Whether a head goes through the metal under it at half its usual tightening force: a factor of two beyond doubt. */
function shearsThrough(underMm: number, plate: PlateFacts): boolean {
  const size = knownScrew(plate);
  return (
    headPunchesThroughN(size, underMm, shearStrengthMpa(plate.alloy)) <
    LEAST_USEFUL * usualPreloadN(size, '8.8')
  );
}

function marginOf({ figure, limit, allowed }: Judged): number {
  return allowed === 'at-least' ? figure - limit : limit - figure;
}

function isWorse(one: Judged, other: Judged): boolean {
  const rank = ({ fault }: Judged) => (fault === 'sunk' ? FAULTS.length : FAULTS.indexOf(fault));
  return rank(one) !== rank(other) ? rank(one) < rank(other) : marginOf(one) < marginOf(other);
}

/** The usual torque of an 8.8 screw, and the torque at which its head neither sinks into the plate nor shears through. */
function torqueFigures(seats: readonly ScrewSeat[], plate: PlateFacts): Finding['figures'] {
  const size = knownScrew(plate);
  const screwMm = threadDiameterMm(size) ?? 0;
  const holeMm = Math.max(...seats.map((seat) => seat.holeDiameterMm));
  const preloadN = usualPreloadN(size, '8.8');
  const areaMm2 = bearingAreaMm2(size, holeMm);
  const { proofMpa } = proofStressOf(plate.alloy, plate.thicknessMm);
  const underMm = plate.thicknessMm - Math.max(...seats.map((seat) => seat.sinkDepthMm));
  if (areaMm2 <= 0 || underMm <= 0) return { proofMpa };
  const strengthMpa = shearStrengthMpa(plate.alloy);
  const shearsFromN = headPunchesThroughN(size, underMm, strengthMpa) / WRENCH_SCATTER;
  const bearableN = Math.min(preloadN, proofMpa * areaMm2, shearsFromN);
  return {
    proofMpa,
    headPressureMpa: headPressureMpa(size, holeMm, preloadN),
    headShearMpa: headShearMpa(size, underMm, preloadN),
    shearStrengthMpa: strengthMpa,
    usualTorqueNm: torqueNm(screwMm, preloadN),
    torqueNm: torqueNm(screwMm, bearableN),
    torqueLimit: bearableN === preloadN ? 'usual' : bearableN === shearsFromN ? 'shear' : 'head-pressure',
  };
}

/** One sink for all heads that clears every fault, then what it takes when the plate is too thin for it. */
function curesFor(
  seats: readonly ScrewSeat[],
  plate: PlateFacts,
  bolster: BolsterFacts,
  screw: CapScrew,
  worst: Judged['fault'],
): readonly Cure[] {
  if (worst === 'hole-wide' || worst === 'head-through-hole') return [smallerHoles(seats, plate, screw)];
  const depthMm = sinkDepthFor(seats, plate, screw);
  const diameterMm = sinkDiameterFor(seats, screw);
  const leastThickMm = upToTenth(depthMm + METAL_UNDER_HEAD * (threadDiameterMm(plate.screw.size) ?? 0));
  const drawn = seats.some((seat) => seat.sinkDrawn);
  const sink: PlateChange = drawn ? {} : { headSinkDepthMm: depthMm, headSinkDiameterMm: diameterMm };
  if (leastThickMm > plate.thicknessMm + 1e-6) {
    return [cureWith('thicker-plate', leastThickMm, { ...sink, thicknessMm: leastThickMm }, !drawn)];
  }
  const isNarrow = worst === 'sink-narrow' || worst === 'sink-tight';
  const isTooDeep = worst === 'sink-through' || worst === 'head-shears' || worst === 'little-metal';
  const code = isNarrow ? 'wider-sink' : isTooDeep ? 'shallower-sink' : 'deeper-sink';
  return [cureWith(code, isNarrow ? diameterMm : depthMm, sink, !drawn)];

  function cureWith(code: string, amount: number, change: PlateChange, canTry: boolean): Cure {
    const changed = plateWith(plate, { ...change, headSinkDepthMm: depthMm });
    const sunk = seats.map((seat) => ({ ...seat, sinkDepthMm: depthMm }));
    const fit = screwForChange(sunk, changed, bolster);
    const longer =
      fit !== null && fit.lengthMm !== plate.screw.lengthMm ? { screwLengthMm: fit.lengthMm } : {};
    return {
      code,
      amount,
      unit: 'mm',
      figures: {
        screwSize: plate.screw.size,
        depthMm,
        diameterMm,
        ...(fit !== null && { screwLengthMm: fit.lengthMm, engagedMm: fit.engagedMm }),
        screwChanges: 'screwLengthMm' in longer ? 'yes' : 'no',
      },
      ...(canTry && { change: { ...change, ...longer } }),
    };
  }
}

/** As deep as now where that is enough and leaves metal; else the least that takes the head. */
function sinkDepthFor(seats: readonly ScrewSeat[], plate: PlateFacts, screw: CapScrew): number {
  const now = Math.max(...seats.map((seat) => seat.sinkDepthMm));
  const most = plate.thicknessMm - METAL_UNDER_HEAD * (threadDiameterMm(plate.screw.size) ?? 0);
  return now >= screw.headHeightMm && now <= most ? now : Math.max(screw.headHeightMm, Math.min(now, most));
}

function sinkDiameterFor(seats: readonly ScrewSeat[], screw: CapScrew): number {
  const now = Math.max(0, ...seats.map((seat) => seat.sinkDiameterMm ?? 0));
  const off = Math.max(...seats.map((seat) => seat.offCentreMm));
  const least = upToTenth(screw.knurledHeadDiameterMm + 2 * off);
  return now >= least ? now : Math.max(screw.counterbore.diameterMm, least);
}

function smallerHoles(seats: readonly ScrewSeat[], plate: PlateFacts, screw: CapScrew): Cure {
  const widest = seats.reduce((one, other) => (other.holeDiameterMm > one.holeDiameterMm ? other : one));
  const diameterMm = ((threadDiameterMm(plate.screw.size) ?? 0) + screw.headDiameterMm) / 2;
  return { code: 'smaller-hole', amount: diameterMm, unit: 'mm', figures: { diameterMm }, at: widest.at };
}
