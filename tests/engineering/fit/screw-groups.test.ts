import { describe, expect, it } from 'vitest';
import { demoBolster, samplePlate } from '../../support/gullwing.js';
import { fitFinding } from './check-plate-fit.js';
import { boltsAt, features, madeDrawing, pocket, rectangle } from './made-drawing.js';

/** Two holes for M6 and two for M5, on a bolster whose upper row is tapped M5 and only 8 mm deep. */
const bolts = [...boltsAt(6.6, [-80, -60], [80, -60]), ...boltsAt(5.5, [80, 60], [-80, 60])];
const over = { features: features({ CAVITY: pocket(3, rectangle(40, 30, { x: 0, y: 20 })) }) };
const drawing = madeDrawing({ bolts, over });
const bolster = {
  ...demoBolster,
  holes: demoBolster.holes.map((hole) => (hole.at.y === 60 ? { ...hole, thread: 'M5', depthMm: 14 } : hole)),
};
const M5 = { size: 'M5', lengthMm: 20, headSinkDepthMm: 6, headSinkDiameterMm: 10 };
const byDiameter = { ...samplePlate, screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: M5 }] };
const byNumber = { ...samplePlate, screwGroups: [{ holeDiameterMm: null, holes: [3, 4], screw: M5 }] };

function ask(check: Parameters<typeof fitFinding>[0], plate: typeof samplePlate) {
  return fitFinding(check, drawing, { plate, bolster });
}

describe('screws per hole group', () => {
  it.each([
    ['by drawn diameter', byDiameter],
    ['by number', byNumber],
  ])('%s, every screw finds a tapped hole of its own thread', (_, plate) => {
    expect(ask('bolt-pattern', plate)).toMatchObject({ verdict: 'clear' });
    expect(ask('screw-heads', plate)).toMatchObject({ verdict: 'clear' });
    expect(ask('screw-engagement', plate)).toMatchObject({ verdict: 'clear' });
  });

  it('without the group no screw goes into the other thread', () => {
    expect(ask('bolt-pattern', samplePlate).verdict).toBe('stop');
  });

  it('the least engaged screw decides: 20 − (16 − 6) = 10 mm in 1.0 × 5, against 11 mm in 1.0 × 6', () => {
    const finding = ask('screw-engagement', byDiameter);
    // 14 - 10 = 4 mm of room in the M5 holes; 15 - 11 = 4 mm in the M6 ones: the first group listed is told.
    expect(finding).toMatchObject({ figure: 11, margin: 4 });
    const short = {
      ...byDiameter,
      screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: { ...M5, lengthMm: 12 } }],
    };
    expect(ask('screw-engagement', short)).toMatchObject({
      verdict: 'stop',
      situation: 'too-short',
      figure: 2,
      limit: { min: 5, max: 14 },
      figures: { screwSize: 'M5', screwLengthMm: 12, screws: 2, failing: 2 },
    });
  });

  it('a cure of the group is said, and only one of the other screws can be tried at once', () => {
    const short = {
      ...byDiameter,
      screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: { ...M5, lengthMm: 12 } }],
    };
    const [cure] = ask('screw-engagement', short).cures;
    expect(cure).toMatchObject({ code: 'screw-length', figures: { screwSize: 'M5' } });
    expect(cure).not.toHaveProperty('change');
    const main = { ...byDiameter, screw: { ...samplePlate.screw, lengthMm: 12 } };
    expect(ask('screw-engagement', main).cures[0]?.change).toEqual({ screwLengthMm: 16 });
  });

  it('each head is sunk for its own height', () => {
    const proud = {
      ...byDiameter,
      screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: { ...M5, headSinkDepthMm: 4 } }],
    };
    expect(ask('screw-heads', proud)).toMatchObject({
      verdict: 'stop',
      situation: 'head-proud',
      figure: 4,
      limit: 5,
      places: [
        { x: 80, y: 60 },
        { x: -80, y: 60 },
      ],
    });
  });
});
