import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { backingAreaMm2, landOf } from '../../../server/engineering/clamp/land.js';
import { dryCuts } from '../../../server/engineering/clamp/land-cuts.js';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import { landing } from '../../../server/engineering/fit/placing.js';
import { screwSeats } from '../../../server/engineering/fit/screw-seats.js';
import { areaOf, momentsOf } from '../../../server/engineering/geometry/area.js';
import { differenceOf } from '../../../server/engineering/geometry/boolean.js';
import { PROJECT_FOLDER } from '../../../server/project-folder.js';
import { demoBolster, samplePlate } from '../../support/gullwing.js';
import { rectangle } from '../../support/hand-drawing.js';
import { placedAt } from '../../support/hand-registration.js';

const AS_DRAWN = { rotationDeg: 0, shift: { x: 0, y: 0 } };

function sample(name: string) {
  const dxf = readFileSync(join(PROJECT_FOLDER, 'tests', 'samples', `${name}.dxf`));
  return measureDxf(dxf, { sprueDiameterMm: 3.5 });
}

describe('the land of a drawing', () => {
  it.each([
    'tile-spacer-4up',
    'seed-label-2up',
    'board-counter-8up',
    'drawer-pull',
    'head-sinks',
    'bolt-through-cavity',
    'plant-tag-end-fed',
    'unequal-gates',
  ])('%s: taken apart piece by piece it is what one great difference leaves, turned and shifted', (name) => {
    const drawing = sample(name);
    const placement = { rotationDeg: 33, shift: { x: 0.4, y: -0.2 } };
    const roomy = { ...demoBolster, face: { ...demoBolster.face, widthMm: 600, heightMm: 600 } };
    const { moments } = landOf(drawing, samplePlate, roomy, placedAt(placement));
    const { CAVITY, RUNNER, GATE, FEED } = drawing.features;
    const wet = [CAVITY, RUNNER, GATE, FEED].flatMap((feature) => (feature ? [feature.region] : []));
    const left = differenceOf(
      [drawing.plate.outline],
      ...wet,
      ...dryCuts(drawing, screwSeats(drawing, samplePlate, demoBolster, placedAt())),
    );
    const whole = momentsOf(
      left.map((ring) => ring.map((point) => landing(point, drawing.feed.at, placement))),
    );
    expect(moments.areaMm2).toBeCloseTo(whole.areaMm2, 1);
    expect(moments.centroid.x).toBeCloseTo(whole.centroid.x, 3);
    expect(moments.centroid.y).toBeCloseTo(whole.centroid.y, 3);
    expect(moments.ixxMm4 / whole.ixxMm4).toBeCloseTo(1, 5);
    expect(moments.iyyMm4 / whole.iyyMm4).toBeCloseTo(1, 5);
    expect((moments.ixyMm4 - whole.ixyMm4) / whole.ixxMm4).toBeCloseTo(0, 5);
  });

  it('what stands over the bolster’s face does not count', () => {
    const drawing = sample('plate-too-wide');
    const whole = landOf(
      drawing,
      samplePlate,
      { ...demoBolster, face: { ...demoBolster.face, widthMm: 400, heightMm: 400 } },
      placedAt(),
    );
    const backed = landOf(drawing, samplePlate, demoBolster, placedAt());
    const left = differenceOf(
      [drawing.plate.outline],
      drawing.projected.region,
      ...dryCuts(drawing, screwSeats(drawing, samplePlate, demoBolster, placedAt())),
    );
    const placed = left.map((ring) => ring.map((point) => landing(point, drawing.feed.at, AS_DRAWN)));
    const over = areaOf(differenceOf(placed, [rectangle({ x: 0, y: 0, widthMm: 200, heightMm: 160 })]));
    expect(over).toBeGreaterThan(3500);
    expect(whole.moments.areaMm2 - backed.moments.areaMm2).toBeCloseTo(over, 0);
  });

  it('the back bears all but its through holes', () => {
    const drawing = sample('tile-spacer-4up');
    const land = landOf(drawing, samplePlate, demoBolster, placedAt());
    const expected = 15818.54 - 4 * ((Math.PI * 6.6 ** 2) / 4);
    expect(backingAreaMm2(drawing, demoBolster, land)).toBeCloseTo(expected, 0);
    const faceOpenings = [
      [
        { x: -5, y: -5 },
        { x: 5, y: -5 },
        { x: 5, y: 5 },
        { x: -5, y: 5 },
      ],
    ];
    expect(backingAreaMm2(drawing, { ...demoBolster, faceOpenings }, land)).toBeCloseTo(expected - 100, 0);
  });
});
