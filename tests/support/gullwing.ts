import type {
  BolsterFacts,
  CheckRules,
  PlateFacts,
  PressFacts,
  TappedHole,
} from '../../server/engineering/press-facts.js';

/** Gullwing Yard, an invented makerspace: its press, its two bolsters, its rules, and the usual plate. */

const tappedHoles: readonly TappedHole[] = [-80, -40, 0, 40, 80].flatMap((x) =>
  [-60, -20, 20, 60].map((y) => ({ at: { x, y }, thread: 'M6', depthMm: 15, positionMm: 0.05 })),
);

export const demoBolster: BolsterFacts = {
  face: { widthMm: 200, heightMm: 160, centre: { x: 0, y: 0 } },
  faceMaterial: 'steel',
  allowableFacePressureMpa: 250,
  holes: tappedHoles,
  faceOpenings: [],
  sprue: { lengthMm: 20, nozzleEndDiameterMm: 2.5, partingFaceDiameterMm: 3.5 },
  minimumDaylightMm: 12,
  largestStackMm: 60,
};

/** The demo bolster without the hole at (80, 60): an unevenly drilled plate goes on one way only. */
export const keyedBolster: BolsterFacts = {
  ...demoBolster,
  holes: tappedHoles.filter(({ at }) => at.x !== 80 || at.y !== 60),
};

export const demoPress: PressFacts = {
  clamp: {
    kind: 'hydraulic',
    minKn: 50,
    maxKn: 500,
    tieBarsWidthMm: 320,
    tieBarsHeightMm: 320,
    platensGuided: true,
    eccentricMomentNmm: null,
  },
  openingStrokeMm: 180,
  injection: {
    screwDiameterMm: 28,
    shotCm3: 60,
    maxPressureMpa: 160,
    maxFlowCm3PerS: 70,
    barrelShots: 2,
    nozzleOrificeMm: 2,
  },
};

export const demoRules: CheckRules = {
  clampSafetyFactor: 1.2,
  handClearanceMm: 60,
  plateHolePositionMm: 0.05,
};

/** 16 mm of EN AW-6082-T6 on M6 x 20 screws, sunk 7 mm with 11 mm counterbores where the drawing has none. */
export const samplePlate: PlateFacts = {
  thicknessMm: 16,
  facingThicknessMm: 0,
  packerThicknessMm: 0,
  alloy: 'EN AW-6082-T6',
  partHeightMm: null,
  screw: { size: 'M6', lengthMm: 20, headSinkDepthMm: 7, headSinkDiameterMm: 11 },
};
