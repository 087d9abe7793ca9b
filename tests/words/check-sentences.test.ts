import { describe, expect, it } from 'vitest';
import { checkClampForce } from '../../server/engineering/clamp/check-clamp-force.js';
import { openingForceOf } from '../../server/engineering/clamp/opening-force.js';
import { findPolymer, type Polymer } from '../../server/engineering/polymers/polymers.js';
import { wordFinding } from '../../server/words/index.js';
import { fitFinding } from '../engineering/fit/check-plate-fit.js';
import { boltsAt, features, madeDrawing, pocket, rectangle } from '../engineering/fit/made-drawing.js';
import { demoPress, demoRules, samplePlate } from '../support/gullwing.js';
import { handDrawing } from '../support/hand-drawing.js';

const PP = findPolymer('PP') as Polymer;

/** A square cavity of 10 000 mm2: 414 kN in the middle of polypropylene's band, 576 at its top. */
function clampForceOn(maxKn: number) {
  const drawing = handDrawing({
    plate: { x: 0, y: 0, widthMm: 180, heightMm: 140 },
    cavities: [{ x: 0, y: 0, widthMm: 100, heightMm: 100, depthMm: 3 }],
  });
  const force = openingForceOf(drawing, PP, demoRules.clampSafetyFactor);
  const clamp = { ...demoPress.clamp, maxKn };
  return wordFinding(checkClampForce(drawing, force, PP, { clamp }));
}

describe('clamp force in words', () => {
  it('never sends anybody to a force that the press has not', () => {
    const { advice, marginText } = clampForceOn(500);
    expect(advice).toContain('Set the press to its largest, 500 kN');
    expect(advice).toMatch(/short shots.*stop at the first flash/);
    expect(advice).not.toContain('576');
    expect(marginText).toBe('76 kN too much');
  });

  it('gives the cure in the advice as well, after what is to be minded', () => {
    const { advice, note, cures } = clampForceOn(500);
    expect(cures.map(({ what }) => what)).toEqual(['Take 13.2 cm² off the projected area']);
    expect(note).not.toContain('Take 13.2');
    expect(advice).toBe(`${note} ${cures[0]?.what}. ${cures[0]?.also}`);
  });

  it('compares the middle of the band where the middle decides', () => {
    expect(clampForceOn(400).summary).toContain(
      'takes 414 kN in the middle of the pressure band (252 kN to 576 kN over all of it), more than the 400 kN',
    );
  });
});

const corners = boltsAt(6.6, [-80, -60], [80, -60], [80, 60], [-80, 60]);
const over = { features: features({ CAVITY: pocket(3, rectangle(40, 30, { x: 0, y: 20 })) }) };

describe('where a hole lies from its tapped hole', () => {
  it.each([
    [[82, 63], '2.0 mm to the right of and 3.0 mm above its tapped hole'],
    [[78, 60], '2.0 mm to the left of its tapped hole'],
    [[80, 57], '3.0 mm below its tapped hole'],
  ] as const)('%j: %s', ([x, y], text) => {
    const bolts = [...boltsAt(6.6, [x, y]), ...corners.filter((_, i) => i !== 2)];
    expect(wordFinding(fitFinding('bolt-pattern', madeDrawing({ bolts, over }))).summary).toContain(text);
  });
});

describe('a margin that is missing says which side of the limit is passed', () => {
  it.each([
    ['daylight', { thicknessMm: 10 }, 'mm too thin'],
    ['daylight', { thicknessMm: 61 }, 'mm too thick'],
    ['opening-stroke', { partHeightMm: 90 }, 'mm too much'],
    ['screw-engagement', { screw: { ...samplePlate.screw, lengthMm: 12 } }, 'mm too short'],
    ['screw-engagement', { screw: { ...samplePlate.screw, lengthMm: 30 } }, 'mm too deep'],
    ['screw-heads', { screw: { ...samplePlate.screw, headSinkDepthMm: 5 } }, 'mm too shallow'],
    ['screw-heads', { screw: { ...samplePlate.screw, headSinkDiameterMm: 9 } }, 'mm too narrow'],
    ['screw-heads', { screw: { ...samplePlate.screw, headSinkDepthMm: 14 } }, 'mm too thin'],
  ] as const)('%s with %j: %s', (check, change, words) => {
    const plate = { ...samplePlate, ...change };
    const finding = fitFinding(check, madeDrawing({ bolts: corners, over }), { plate });
    expect(wordFinding(finding).marginText).toMatch(new RegExp(`${words}$`));
  });

  it('holes: too small, too far off, too few', () => {
    const marginOf = (bolts: typeof corners) =>
      wordFinding(fitFinding('bolt-pattern', madeDrawing({ bolts, over }))).marginText;
    expect(marginOf(corners.map((bolt) => ({ ...bolt, diameterMm: 6 })))).toBe('0.20 mm too small');
    expect(marginOf([...boltsAt(6.6, [83, 60]), ...corners.filter((_, i) => i !== 2)])).toMatch(
      /mm too far off$/,
    );
    expect(marginOf(corners.slice(0, 1))).toBe('1 too few');
  });
});
