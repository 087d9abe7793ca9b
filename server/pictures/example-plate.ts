import type { Cavity, DepthLevel, MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import type { Registration } from '../engineering/fit/registration-result.js';
import { areaOf } from '../engineering/geometry/area.js';
import type { Point, Region, Ring } from '../engineering/geometry/point.js';
import type { BolsterFacts, PlateFacts } from '../engineering/press-facts.js';

/** A plate of two buttons for the developers' sheet and the tests of pictures: simple enough to be checked by eye. */
const PLATE = { widthMm: 110, heightMm: 70 };
const BUTTON = { radiusMm: 14, depthMm: 3, rimMm: 4, middleDepthMm: 1.8, hole: 3, offsetMm: 27 };
const RUNNER = { widthMm: 5, depthMm: 2.5 };
const BOLT_DIAMETER_MM = 6.6;
const BOLTS: readonly Point[] = [
  { x: -40, y: -20 },
  { x: 40, y: -20 },
  { x: 40, y: 20 },
  { x: -40, y: 20 },
];

export const EXAMPLE_PLATE_FACTS: PlateFacts = {
  thicknessMm: 10,
  facingThicknessMm: 0,
  packerThicknessMm: 0,
  alloy: 'EN AW-6082-T6',
  partHeightMm: null,
  draftDeg: null,
  cutters: [],
  screw: { size: 'M6', lengthMm: 12, headSinkDepthMm: 6.5, headSinkDiameterMm: 11 },
  screwGroups: [],
};

export const EXAMPLE_BOLSTER: BolsterFacts = {
  face: { widthMm: 200, heightMm: 160, centre: { x: 0, y: 0 } },
  faceMaterial: 'steel',
  allowableFacePressureMpa: 250,
  holes: [-80, -40, 0, 40, 80].flatMap((x) =>
    [-60, -20, 20, 60].map((y) => ({ at: { x, y }, thread: 'M6', depthMm: 15, positionMm: 0.05 })),
  ),
  faceOpenings: [],
  sprue: { lengthMm: 20, nozzleEndDiameterMm: 2.5, partingFaceDiameterMm: 3.5 },
  minimumDaylightMm: 12,
  largestStackMm: 60,
  halfThicknessMm: { moving: 60, fixed: 60 },
  halfMaterial: 'steel',
};

/** The example plate as measured, drawn with its feed at the origin. `wrongBoltMm` moves one hole to the right. */
export function examplePlate(wrongBoltMm = 0): MeasuredDrawing {
  const left = button({ x: -BUTTON.offsetMm, y: 0 });
  const right = button({ x: BUTTON.offsetMm, y: 0 });
  const runnerLevel = level(RUNNER.depthMm, [
    rectangle(
      -BUTTON.offsetMm + BUTTON.radiusMm,
      -RUNNER.widthMm / 2,
      BUTTON.offsetMm - BUTTON.radiusMm,
      RUNNER.widthMm / 2,
    ),
  ]);
  const ventLevel = level(0.02, [
    rectangle(-55, -2.5, -BUTTON.offsetMm - BUTTON.radiusMm, 2.5),
    rectangle(BUTTON.offsetMm + BUTTON.radiusMm, -2.5, 55, 2.5),
  ]);
  const cavityLevels = [BUTTON.middleDepthMm, BUTTON.depthMm].map((depthMm) =>
    level(
      depthMm,
      [left, right].flatMap((cavity) => cavity.levels.find((each) => each.depthMm === depthMm)?.region ?? []),
    ),
  );
  const cavityRegion = [...left.region, ...right.region];
  const levels = [...cavityLevels, runnerLevel].toSorted((a, b) => a.depthMm - b.depthMm);
  const projected = [...cavityRegion, ...runnerLevel.region];
  const volumeMm3 = levels.reduce((sum, each) => sum + each.areaMm2 * each.depthMm, 0);
  const measured = (region: Region, ofLevels: readonly DepthLevel[]) => ({
    region,
    areaMm2: ofLevels.reduce((sum, each) => sum + each.areaMm2, 0),
    volumeMm3: ofLevels.reduce((sum, each) => sum + each.areaMm2 * each.depthMm, 0),
    maxDepthMm: Math.max(...ofLevels.map((each) => each.depthMm)),
    levels: ofLevels,
  });
  const vent = measured(ventLevel.region, [ventLevel]);
  return {
    units: { insunits: 4, mmPerUnit: 1, assumed: false },
    notices: [],
    plate: {
      outline: roundedRectangle(PLATE.widthMm / 2, PLATE.heightMm / 2, 5),
      openings: [],
      areaMm2: PLATE.widthMm * PLATE.heightMm,
      ...PLATE,
      min: { x: -PLATE.widthMm / 2, y: -PLATE.heightMm / 2 },
      max: { x: PLATE.widthMm / 2, y: PLATE.heightMm / 2 },
    },
    feed: { at: { x: 0, y: 0 }, drawnDiameterMm: null, diameterMm: 3.5, depthMm: 2.5, depthFromRunner: true },
    bolts: BOLTS.map((at, index) => ({
      at: index === 1 ? { x: at.x + wrongBoltMm, y: at.y } : at,
      diameterMm: BOLT_DIAMETER_MM,
    })),
    sinks: [],
    dowels: [],
    water: [],
    features: {
      CAVITY: measured(cavityRegion, cavityLevels),
      RUNNER: measured(runnerLevel.region, [runnerLevel]),
      GATE: null,
      FEED: null,
      VENT: vent,
      SINK: null,
    },
    ventInsidePlate: vent,
    projected: {
      region: projected,
      areaMm2: levels.reduce((sum, each) => sum + each.areaMm2, 0),
      centroid: { x: 0, y: 0 },
    },
    moulded: { levels, volumeMm3 },
    cavities: [left, right],
    ways: [],
  };
}

/** How the example plate goes on the example bolster: as drawn, one hole off when one was moved. */
export function exampleRegistration(wrongBoltMm = 0): Registration {
  const fits = wrongBoltMm === 0;
  return {
    fits,
    holesFit: fits,
    feedFits: true,
    outlineFits: true,
    rotationDeg: 0,
    mirroredFits: fits,
    floatMm: { x: 0, y: 0 },
    worstErrorMm: wrongBoltMm,
    worstErrorAfterFloatMm: wrongBoltMm,
    allowanceMm: 0.2,
    feedOffset: { x: 0, y: 0 },
    leastFeedOffsetMm: fits ? 0 : null,
    feedAllowanceMm: 0.05,
    placement: { rotationDeg: 0, shift: { x: 0, y: 0 } },
    matches: BOLTS.map((at, bolt) => {
      const wrong = bolt === 1 && !fits;
      return {
        bolt,
        hole: EXAMPLE_BOLSTER.holes.findIndex((hole) => hole.at.x === at.x && hole.at.y === at.y),
        error: { x: wrong ? wrongBoltMm : 0, y: 0 },
        errorMm: wrong ? wrongBoltMm : 0,
        allowanceMm: 0.2,
        matched: !wrong,
      };
    }),
  };
}

/** A ring round a shallower middle, with an island left standing in its centre. */
function button(centre: Point): Cavity {
  const rim = ring(centre, BUTTON.radiusMm);
  const step = ring(centre, BUTTON.radiusMm - BUTTON.rimMm);
  const island = ring(centre, BUTTON.hole);
  const levels = [
    level(BUTTON.middleDepthMm, [step, island.toReversed()]),
    level(BUTTON.depthMm, [rim, step.toReversed()]),
  ];
  return {
    region: [rim, island.toReversed()],
    levels,
    areaMm2: levels.reduce((sum, each) => sum + each.areaMm2, 0),
    volumeMm3: levels.reduce((sum, each) => sum + each.areaMm2 * each.depthMm, 0),
    maxDepthMm: BUTTON.depthMm,
    centroid: centre,
    widthMm: 2 * BUTTON.radiusMm,
    heightMm: 2 * BUTTON.radiusMm,
  };
}

function level(depthMm: number, region: Region): DepthLevel {
  return { depthMm, region, areaMm2: areaOf(region) };
}

/** A circle as 96 points, counter-clockwise. */
function ring({ x, y }: Point, radiusMm: number): Ring {
  return Array.from({ length: 96 }, (_none, index) => {
    const angle = (index * Math.PI) / 48;
    return { x: x + radiusMm * Math.cos(angle), y: y + radiusMm * Math.sin(angle) };
  });
}

function rectangle(minX: number, minY: number, maxX: number, maxY: number): Ring {
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
}

function roundedRectangle(halfWidth: number, halfHeight: number, radius: number): Ring {
  return [
    { x: 1, y: 1 },
    { x: -1, y: 1 },
    { x: -1, y: -1 },
    { x: 1, y: -1 },
  ].flatMap((corner, quarter) =>
    Array.from({ length: 7 }, (_none, index) => {
      const angle = ((quarter + index / 6) * Math.PI) / 2;
      return {
        x: corner.x * (halfWidth - radius) + radius * Math.cos(angle),
        y: corner.y * (halfHeight - radius) + radius * Math.sin(angle),
      };
    }),
  );
}
