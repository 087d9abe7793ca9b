/** A floor over an opening, clamped along the rim. All lengths mm, pressure and moduli MPa. */
export interface Floor {
  /** A round opening, or anything else: then the strip across its width, which bends at least as much. */
  readonly shape: 'disc' | 'strip';
  /** Diameter of the opening, or its width. */
  readonly spanMm: number;
  readonly thicknessMm: number;
  /** A packer below, which bends along; 0 for none. Taken as of the plate's own metal. */
  readonly packerMm: number;
  readonly modulusMpa: number;
  readonly poisson: number;
}

/** What a pressure does to a floor. */
export interface BentFloor {
  readonly stressMpa: number;
  /** At the middle, of bending and of shear. */
  readonly deflectionMm: number;
  readonly bendingMm: number;
  readonly shearMm: number;
}

/** How shear spreads over the thickness: 5/6 (C. C. Ike 2018 as below). */
const SHEAR_SPREAD = 5 / 6;

/**
 * Stress and deflection of a clamped floor under a pressure on all of it, MPa.
 * Disc of radius a: w = p a^4 / 64 D, stress 3 p a^2 / 4 t^2 at the rim, D = E t^3 / 12 (1 - v^2) (Mechanical
 * Engineer's Data Handbook, 1.10.1; Timoshenko; Roark). Strip of width b: w = p b^4 / 384 D, stress p b^2 / 2 t^2, a
 * beam with both ends held. Shear adds p a^2 / 4 k G t to the disc and p b^2 / 8 k G t to the strip; that deflection
 * is a sum of both parts, and shear counts where the floor is thick for its span: C. C. Ike, Mathematical solutions
 * for the flexural analysis of Mindlin's first order shear deformable circular plates (2018). Floor and packer lie loose on one another and share the
 * load by their stiffness. Valid for deflections well under the thickness.
 */
export function bentFloor(floor: Floor, pressureMpa: number): BentFloor {
  const { shape, spanMm, thicknessMm, packerMm, modulusMpa, poisson } = floor;
  const cubesMm3 = thicknessMm ** 3 + packerMm ** 3;
  const share = thicknessMm ** 3 / cubesMm3;
  const rigidity = (modulusMpa * cubesMm3) / (12 * (1 - poisson ** 2));
  const shearStiffness = (SHEAR_SPREAD * modulusMpa * (thicknessMm + packerMm)) / (2 * (1 + poisson));
  const radiusMm = spanMm / 2;
  const isDisc = shape === 'disc';
  const bendingMm = (pressureMpa * (isDisc ? radiusMm ** 4 / 64 : spanMm ** 4 / 384)) / rigidity;
  const shearMm = (pressureMpa * (isDisc ? radiusMm ** 2 / 4 : spanMm ** 2 / 8)) / shearStiffness;
  const perSquare = isDisc ? (3 * radiusMm ** 2) / 4 : spanMm ** 2 / 2;
  return {
    stressMpa: (share * pressureMpa * perSquare) / thicknessMm ** 2,
    deflectionMm: bendingMm + shearMm,
    bendingMm,
    shearMm,
  };
}
