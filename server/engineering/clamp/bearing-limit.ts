import type { Basis } from '../finding.js';
import { proofStressOf } from '../materials/alloys.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';

/** The softest of the faces that meet at the land. */
export interface BearingLimit {
  readonly softest: 'plate' | 'facing' | 'bolster-face';
  readonly allowableMpa: number;
  /** Lowest proof stress of the plate's metal, MPa, and where the figure is from. */
  readonly proofMpa: number;
  readonly proofBasis: Basis;
  readonly source: string;
  readonly basis: Basis;
}

/** Allowable pressure on a land, as a share of the proof stress. Common practice, no source: 2 on yield. */
const SHARE_OF_PROOF = 0.5;

/**
 * Allowable mean pressure on the land, MPa: half the proof stress of plate and facing plate (the same alloy unless
 * told), or what the bolster's face is stated to bear where the plate meets it bare. 120 MPa for 6082 of 16 mm.
 */
export function bearingLimitOf(plate: PlateFacts, bolster: BolsterFacts): BearingLimit {
  const proof = proofStressOf(plate.alloy, plate.thicknessMm);
  const plateMpa = proof.proofMpa * SHARE_OF_PROOF;
  const metal = {
    proofMpa: proof.proofMpa,
    proofBasis: proof.basis,
    source: `half the proof stress: common practice, no source; proof stress: ${proof.source}`,
    basis: 'practice',
  } as const;
  if (plate.facingThicknessMm > 0) {
    const facingMpa = proofStressOf(plate.alloy, plate.facingThicknessMm).proofMpa * SHARE_OF_PROOF;
    const softest = facingMpa < plateMpa ? 'facing' : 'plate';
    return { softest, allowableMpa: Math.min(plateMpa, facingMpa), ...metal };
  }
  if (bolster.allowableFacePressureMpa >= plateMpa)
    return { softest: 'plate', allowableMpa: plateMpa, ...metal };
  return {
    softest: 'bolster-face',
    allowableMpa: bolster.allowableFacePressureMpa,
    proofMpa: proof.proofMpa,
    proofBasis: proof.basis,
    source: 'allowable pressure on the bolster’s face, as recorded for it',
    basis: 'machine',
  };
}
