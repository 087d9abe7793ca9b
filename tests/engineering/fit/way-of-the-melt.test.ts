import { describe, expect, it } from 'vitest';
import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import { checkFeedOnSprue } from '../../../server/engineering/fit/check-feed-on-sprue.js';
import { registerPlate } from '../../../server/engineering/fit/register-plate.js';
import { momentsOf } from '../../../server/engineering/geometry/area.js';
import { unionOf } from '../../../server/engineering/geometry/boolean.js';
import type { Ring } from '../../../server/engineering/geometry/point.js';
import { wordFinding } from '../../../server/words/index.js';
import { demoBolster, demoRules, samplePlate } from '../../support/gullwing.js';
import { handDrawing } from '../../support/hand-drawing.js';
import { rectangle } from './made-drawing.js';

/** Two cavities of 20 x 20 mm, their middles 55 mm right and left of the feed, and what leads to them. */
function fedBy(...ways: readonly Ring[]) {
  const drawing = handDrawing({
    plate: { x: 0, y: 0, widthMm: 180, heightMm: 140 },
    bolts: [-80, 80].flatMap((x) => [-60, 60].map((y) => ({ x, y }))),
    cavities: [-55, 55].map((x) => ({ x, y: 0, widthMm: 20, heightMm: 20, depthMm: 3 })),
  });
  const feed = rectangle(4, 4);
  const region = unionOf([drawing.projected.region, [feed], ...ways.map((ring) => [ring])]);
  const { areaMm2, centroid } = momentsOf(region);
  return { ...drawing, projected: { region, areaMm2, centroid } };
}

function feedFinding(drawing: MeasuredDrawing) {
  const registration = registerPlate(drawing, demoBolster, 6, demoRules);
  return checkFeedOnSprue({ drawing, plate: samplePlate, registration, bolster: demoBolster });
}

const wayTo = (fromX: number, toX: number, widthMm = 5) =>
  rectangle(toX - fromX, widthMm, { x: (fromX + toX) / 2, y: 0 });

describe('the way from the feed to the cavities', () => {
  it('leads to both', () => {
    expect(feedFinding(fedBy(wayTo(-50, 50)))).toMatchObject({ verdict: 'clear', situation: 'on-sprue' });
  });

  it.each([
    [30, 15],
    [44.9, 0.1],
    [44.98, 0.02],
  ])(
    'a runner that ends at %f mm: the cavity from 45 mm on stays empty, %f mm short of it',
    (endsAt, gapMm) => {
      const finding = feedFinding(fedBy(wayTo(-50, endsAt)));
      expect(finding).toMatchObject({
        verdict: 'caution',
        situation: 'cavities-not-joined',
        figure: 1,
        limit: 2,
      });
      expect(finding.figures.cavityNumbers).toEqual([2]);
      expect(finding.places).toEqual([{ x: 55, y: 0 }]);
      expect(wordFinding(finding).summary).toMatch(/cavity 2 is not joined to it/);
      const [join] = finding.cures;
      expect(join?.amount).toBeCloseTo(gapMm, 6);
      const across = wayTo(Number(join?.figures.fromXMm) - 1, Number(join?.figures.toXMm) + 1, 2);
      expect(feedFinding(fedBy(wayTo(-50, endsAt), across)).verdict).toBe('clear');
    },
  );

  it('counts cuts within a hundredth as joined', () => {
    expect(feedFinding(fedBy(wayTo(-50, 44.995))).verdict).toBe('clear');
  });

  it('a feed that nothing leaves feeds none', () => {
    const finding = feedFinding(fedBy());
    expect(finding).toMatchObject({ verdict: 'caution', figure: 0 });
    expect(wordFinding(finding).marginText).toBe('2 not joined');
    expect(wordFinding(finding).summary).toMatch(/cavities 1 and 2 are/);
  });

  it('one cavity may feed the next', () => {
    const chained = fedBy(wayTo(-50, 0), rectangle(110, 4, { x: 0, y: 8 }));
    expect(feedFinding(chained).verdict).toBe('clear');
  });
});
