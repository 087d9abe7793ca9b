/** What one shot is made of, and the screw that gives it. */
export interface ShotGround {
  /** Cavities, runners, gates and feed, mm3, as drawn. */
  readonly mouldedMm3: number;
  /** In the bolster's fixed half; a cone cut off at both ends. */
  readonly sprue: {
    readonly lengthMm: number;
    readonly nozzleEndDiameterMm: number;
    readonly partingFaceDiameterMm: number;
  };
  readonly screwDiameterMm: number;
  /** The most the press can give, cm3. */
  readonly shotCm3: number;
}

export interface ShotEstimate {
  /** Everything that the shot fills, the sprue with it, mm3. */
  readonly volumeMm3: number;
  readonly sprueMm3: number;
  /** Way of the screw that displaces that volume, mm. */
  readonly screwMm: number;
  readonly cushionMm: number;
  /** The longest way the screw has, mm. */
  readonly longestMm: number;
  /** The way in screw diameters. */
  readonly diameters: number;
  /** True where the way is so short that its small errors are a large part of it. */
  readonly isShortOfStroke: boolean;
  /** True where the press cannot give so much. */
  readonly isBeyondPress: boolean;
}

/** Melt left before the screw for the hold to push on, mm: handbook value, from memory (3 to 6 mm on small screws). */
const CUSHION_MM = 5;

/** Below this way, in screw diameters, metering gets uneven. Common practice, no source. */
const LEAST_DIAMETERS = 0.25;

/**
 * A shot as a way of the screw: s = V / (pi/4 D^2), V the volume that is filled. It is the cold part's volume: melt
 * takes up more room and some flows back past the screw, so that the estimate comes out short, which is the safe
 * side for a first shot.
 *
 * @throws RangeError for a screw without a diameter
 */
export function shotEstimate({ mouldedMm3, sprue, screwDiameterMm, shotCm3 }: ShotGround): ShotEstimate {
  if (!(screwDiameterMm > 0)) throw new RangeError(`a screw of ${screwDiameterMm} mm`);
  const sprueMm3 = coneMm3(sprue.lengthMm, sprue.nozzleEndDiameterMm, sprue.partingFaceDiameterMm);
  const volumeMm3 = mouldedMm3 + sprueMm3;
  const screwAreaMm2 = (Math.PI / 4) * screwDiameterMm ** 2;
  const screwMm = volumeMm3 / screwAreaMm2;
  const longestMm = (shotCm3 * 1000) / screwAreaMm2;
  const diameters = screwMm / screwDiameterMm;
  return {
    volumeMm3,
    sprueMm3,
    screwMm,
    cushionMm: Math.max(0, Math.min(CUSHION_MM, longestMm - screwMm)),
    longestMm,
    diameters,
    isShortOfStroke: diameters < LEAST_DIAMETERS,
    isBeyondPress: screwMm > longestMm,
  };
}

/** V = pi h/12 (D^2 + D d + d^2). */
function coneMm3(lengthMm: number, oneMm: number, otherMm: number): number {
  return (Math.PI / 12) * lengthMm * (oneMm ** 2 + oneMm * otherMm + otherMm ** 2);
}
