import type { Cure, Finding } from '../finding.js';
import { plateWith, stackMm, upToTenth } from '../fit/plate-with.js';
import { stackCure } from '../fit/stack-cure.js';
import { ALLOY_FACTS, type ProofStep, proofStressOf } from '../materials/alloys.js';
import type { PlateFacts } from '../press-facts.js';
import type { ClampCase } from './clamp-case.js';
import { type OpenSpan, openSpans } from './open-spans.js';
import { type BentFloor, bentFloor } from './plate-floor.js';

/** Allowable bending, as a share of the proof stress: every shot bends it anew. Common practice, no source. */
const SHARE_OF_PROOF = 0.5;
/** How far a floor may give under pressure and still leave the part its thickness, mm. Common practice, no source. */
const GIVES_MOST_MM = 0.05;
/** The cure looks no further than this for a floor that holds, mm more than now. */
const THICKEST_MORE_MM = 40;

/** Load of a cut right through: more than any floor that is there has, and more the deeper it goes. */
const BEYOND_ALL = 1e9;

const SOURCE =
  'clamped plate under even pressure: Mechanical Engineer’s Data Handbook, 1.10.1 (as Timoshenko and Roark)';

interface JudgedSpan {
  readonly span: OpenSpan;
  readonly floorMm: number;
  /** At the top of the pressure band and in its middle. */
  readonly bent: BentFloor;
  readonly middleMpa: number;
  readonly proof: ProofStep;
  readonly verdict: 'clear' | 'caution' | 'stop';
  readonly situation: 'holds' | 'no-floor' | 'yields' | 'weak' | 'gives';
  /** What is asked of it over what it bears: the worst span has the most. */
  readonly load: number;
}

/**
 * Floors over openings: where melt lies over an opening of the bolster's face or a tapped hole, the metal left under
 * it is a clamped disc or strip under cavity pressure. A stop where the middle of the pressure band passes a
 * published proof stress, or no floor is left; a caution where the top passes half the proof stress, or the floor
 * gives more than 0.05 mm.
 */
export function checkPlateFloor(given: ClampCase): Finding {
  const spans = openSpans(given.drawing, given.bolster, given.land);
  const judged = spans.map((span) => judgeSpan(span, given, given.plate));
  const worst = judged.reduce<JudgedSpan | null>((a, b) => (a === null || b.load > a.load ? b : a), null);
  if (worst === null) return backed(given);
  const { span, bent, proof, floorMm, situation, verdict } = worst;
  const allowableMpa = proof.proofMpa * SHARE_OF_PROOF;
  const isGiving = situation === 'gives';
  const figure = situation === 'no-floor' ? floorMm : isGiving ? bent.deflectionMm : bent.stressMpa;
  const limit = situation === 'no-floor' ? 0 : isGiving ? GIVES_MOST_MM : allowableMpa;
  return {
    check: 'plate-floor',
    verdict,
    situation,
    figure,
    limit,
    allowed: situation === 'no-floor' ? 'at-least' : 'at-most',
    unit: situation === 'no-floor' || isGiving ? 'mm' : 'MPa',
    margin: situation === 'no-floor' ? floorMm : limit - figure,
    figures: {
      kind: span.kind,
      shape: span.shape,
      spanMm: span.spanMm,
      depthMm: span.depthMm,
      floorMm,
      packerMm: given.plate.packerThicknessMm,
      pressureMpa: given.force.pressureMaxMpa,
      stressMpa: bent.stressMpa,
      middleStressMpa: worst.middleMpa,
      deflectionMm: bent.deflectionMm,
      allowableMpa,
      proofMpa: proof.proofMpa,
      givesMostMm: GIVES_MOST_MM,
      spans: spans.length,
      placed: given.land.placed,
    },
    places: verdict === 'clear' ? [] : [span.at],
    cures: verdict === 'clear' ? [] : thickerFloor(given, spans),
    source: `${SOURCE}; half the proof stress: common practice, no source; proof stress: ${proof.source}`,
    basis: verdict === 'stop' ? 'computed' : 'practice',
  };
}

function judgeSpan(span: OpenSpan, { force }: ClampCase, plate: PlateFacts): JudgedSpan {
  const floorMm = plate.thicknessMm - span.depthMm;
  const proof = proofStressOf(plate.alloy, plate.thicknessMm);
  if (floorMm <= 0) {
    const bent = { stressMpa: 0, deflectionMm: 0, bendingMm: 0, shearMm: 0 };
    const load = BEYOND_ALL - floorMm;
    return { span, floorMm, bent, middleMpa: 0, proof, verdict: 'stop', situation: 'no-floor', load };
  }
  const { modulusMpa, poisson } = ALLOY_FACTS[plate.alloy];
  const floor = {
    ...{ shape: span.shape, spanMm: span.spanMm, thicknessMm: floorMm },
    ...{ packerMm: plate.packerThicknessMm, modulusMpa: modulusMpa.value, poisson: poisson.value },
  };
  const bent = bentFloor(floor, force.pressureMaxMpa);
  const middleMpa = bentFloor(floor, (force.pressureMinMpa + force.pressureMaxMpa) / 2).stressMpa;
  const allowableMpa = proof.proofMpa * SHARE_OF_PROOF;
  const load = Math.max(bent.stressMpa / allowableMpa, bent.deflectionMm / GIVES_MOST_MM);
  const at = { span, floorMm, bent, middleMpa, proof, load };
  if (middleMpa > proof.proofMpa && proof.basis === 'sourced') {
    return { ...at, verdict: 'stop', situation: 'yields' };
  }
  if (bent.stressMpa > allowableMpa) return { ...at, verdict: 'caution', situation: 'weak' };
  if (bent.deflectionMm > GIVES_MOST_MM) return { ...at, verdict: 'caution', situation: 'gives' };
  return { ...at, verdict: 'clear', situation: 'holds' };
}

function backed({ land }: ClampCase): Finding {
  return {
    check: 'plate-floor',
    verdict: 'clear',
    situation: 'backed',
    figure: null,
    limit: null,
    allowed: null,
    unit: 'MPa',
    margin: null,
    figures: { placed: land.placed },
    places: [],
    cures: [],
    source: SOURCE,
    basis: 'computed',
  };
}

/** The least stock, by tenths of a millimetre, at which every floor holds and the stack still goes in. */
function thickerFloor(given: ClampCase, spans: readonly OpenSpan[]): readonly Cure[] {
  const { plate, bolster } = given;
  const holds = (thicknessMm: number) => {
    const tried = plateWith(plate, { thicknessMm });
    return spans.every((span) => judgeSpan(span, given, tried).verdict === 'clear');
  };
  for (let moreMm = 0.1; moreMm <= THICKEST_MORE_MM; moreMm += 0.1) {
    const thicknessMm = upToTenth(plate.thicknessMm + moreMm);
    if (!holds(thicknessMm)) continue;
    if (stackMm(plateWith(plate, { thicknessMm })) > bolster.largestStackMm) return [];
    return [stackCure(given, 'thicker-stock', thicknessMm, { thicknessMm })];
  }
  return [];
}
