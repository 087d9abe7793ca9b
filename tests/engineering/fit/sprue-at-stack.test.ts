import { describe, expect, it } from 'vitest';
import { sprueAtStack } from '../../../server/engineering/fit/sprue-at-stack.js';
import { wordFinding } from '../../../server/words/index.js';
import { demoBolster, samplePlate } from '../../support/gullwing.js';
import { fitFinding } from './check-plate-fit.js';
import { boltsAt, features, madeDrawing, pocket, rectangle } from './made-drawing.js';

const corners = boltsAt(6.6, [-80, -60], [80, -60], [80, 60], [-80, 60]);
const cavity = features({ CAVITY: pocket(3, rectangle(40, 30, { x: 0, y: 20 })) });

function plateWithPocket(diameterMm: number | null) {
  return madeDrawing({
    bolts: corners,
    feed: { drawnDiameterMm: diameterMm, diameterMm: diameterMm ?? 3.5 },
    over: { features: cavity },
  });
}

const facing = (facingThicknessMm: number) => ({ ...samplePlate, facingThicknessMm });

describe('the sprue behind a facing plate', () => {
  it.each([
    // 2.5 to 3.5 mm over 20 mm: 0.05 mm wider for each mm of facing plate.
    [0, 20, 3.5],
    [10, 30, 4],
    [5, 25, 3.75],
  ])('%d mm of facing plate: %d mm long and %f mm at its end', (facingMm, lengthMm, endDiameterMm) => {
    expect(sprueAtStack(demoBolster, facing(facingMm))).toEqual({ lengthMm, endDiameterMm });
  });

  it('undercuts a pocket that would do without it, and the pocket it asks for clears it', () => {
    const drawing = plateWithPocket(3.6);
    expect(fitFinding('feed-on-sprue', drawing).verdict).toBe('clear');
    const finding = fitFinding('feed-on-sprue', drawing, { plate: facing(10) });
    expect(finding).toMatchObject({ verdict: 'stop', situation: 'undercut', limit: 4 });
    expect(finding.margin).toBeCloseTo(-0.4, 9);
    const { summary, marginText } = wordFinding(finding);
    expect(summary).toContain('its taper taken to go on through 10.0 mm of facing plate');
    expect(marginText).toBe('0.40 mm too narrow');
    const [widen] = finding.cures;
    expect(widen?.code).toBe('widen-feed');
    const wide = plateWithPocket(widen?.amount ?? 0);
    expect(fitFinding('feed-on-sprue', wide, { plate: facing(10) }).verdict).toBe('clear');
  });

  it('leaves less room to be off in the same pocket', () => {
    const limitWith = (facingMm: number) =>
      fitFinding('feed-on-sprue', plateWithPocket(4.4), { plate: facing(facingMm) }).limit;
    expect(limitWith(0)).toBeCloseTo((4.4 - 3.5) / 2, 9);
    expect(limitWith(10)).toBeCloseTo((4.4 - 4) / 2, 9);
  });

  it('a feed drawn as a point is as wide as the sprue that reaches it', () => {
    const finding = fitFinding('feed-on-sprue', plateWithPocket(null), { plate: facing(10) });
    expect(finding).toMatchObject({ verdict: 'clear', figures: { pocketMm: 4, sprueMm: 4 } });
  });

  it('is as long in the opening stroke', () => {
    expect(fitFinding('opening-stroke', plateWithPocket(4), { plate: facing(10) }).figures.sprueMm).toBe(30);
  });
});
