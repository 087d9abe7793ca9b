import type { PlateChange } from '../finding.js';
import { ALLOYS, type PlateFacts } from '../press-facts.js';

/** The same plate with a cure's change made to it. */
export function plateWith(plate: PlateFacts, change: PlateChange): PlateFacts {
  return {
    ...plate,
    thicknessMm: change.thicknessMm ?? plate.thicknessMm,
    facingThicknessMm: change.facingThicknessMm ?? plate.facingThicknessMm,
    packerThicknessMm: change.packerThicknessMm ?? plate.packerThicknessMm,
    alloy: ALLOYS.find((alloy) => alloy === change.alloy) ?? plate.alloy,
    screw: {
      ...plate.screw,
      lengthMm: change.screwLengthMm ?? plate.screw.lengthMm,
      headSinkDepthMm: change.headSinkDepthMm ?? plate.screw.headSinkDepthMm,
      headSinkDiameterMm: change.headSinkDiameterMm ?? plate.screw.headSinkDiameterMm,
    },
  };
}

/** Everything between the two bolster faces: plate, facing plate and packer, mm. */
export function stackMm(plate: PlateFacts): number {
  return plate.thicknessMm + plate.facingThicknessMm + plate.packerThicknessMm;
}

/** Up to the next tenth of a millimetre: what can be asked of a saw or a mill. */
export function upToTenth(lengthMm: number): number {
  return Math.ceil(lengthMm * 10 - 1e-6) / 10;
}
