import { describe, expect, it } from 'vitest';
import {
  EXAMPLE_BOLSTER,
  EXAMPLE_PLATE_FACTS,
  examplePlate,
  exampleRegistration,
} from '../../server/pictures/example-plate.js';
import { placementOf } from '../../server/pictures/placement.js';
import { type PlateOnBolsterInput, plateOnBolster } from '../../server/pictures/plate-on-bolster.js';

function drawn(change: Partial<PlateOnBolsterInput> = {}): string {
  return plateOnBolster({
    drawing: examplePlate(),
    registration: exampleRegistration(),
    bolster: EXAMPLE_BOLSTER,
    screw: EXAMPLE_PLATE_FACTS.screw,
    balloons: [],
    label: 'A plate',
    words: { face: 'face', noHole: 'no hole', length: (mm) => mm.toFixed(1) },
    ...change,
  }).markup;
}

function count(markup: string, className: string): number {
  return markup.split(`class="${className}"`).length - 1;
}

/** Middles of circles of a class. */
function circles(markup: string, className: string): readonly (readonly [x: number, y: number, r: number])[] {
  const pattern = new RegExp(`<circle class="${className}" cx="([^"]+)" cy="([^"]+)" r="([^"]+)"`, 'g');
  return [...markup.matchAll(pattern)].map(([, x, y, r]) => [Number(x), Number(y), Number(r)]);
}

describe('a point of the drawing on the bolster', () => {
  it('is turned counter-clockwise about the feed, shifted, and shown with y down', () => {
    const drawing = { ...examplePlate(), feed: { ...examplePlate().feed, at: { x: 100, y: 50 } } };
    const place = placementOf(drawing, { placement: { rotationDeg: 90, shift: { x: 0.5, y: -0.25 } } });
    const at = place({ x: 110, y: 50 });
    expect(at.x).toBeCloseTo(0.5, 9);
    expect(at.y).toBeCloseTo(-(10 - 0.25), 9);
  });

  it('stays as drawn, the feed on the sprue, when no placement is known', () => {
    expect(placementOf(examplePlate(), { placement: null })({ x: 3, y: 4 })).toEqual({ x: 3, y: -4 });
  });
});

describe('the plate on the bolster', () => {
  it('has the frame of a face of 200 by 160 mm with its margins', () => {
    expect(drawn()).toContain('viewBox="-120 -92 236 192"');
  });

  it('grows its frame and its letters with a larger face', () => {
    const face = { widthMm: 400, heightMm: 320, centre: { x: 0, y: 0 } };
    const markup = drawn({ bolster: { ...EXAMPLE_BOLSTER, face } });
    expect(markup).toContain('viewBox="-240 -184 472 384"');
    expect(markup).toContain('font-size="12"');
  });

  it('follows a face whose middle is not on the sprue', () => {
    const face = { widthMm: 200, heightMm: 160, centre: { x: 10, y: 20 } };
    expect(drawn({ bolster: { ...EXAMPLE_BOLSTER, face } })).toContain('viewBox="-110 -112 236 192"');
  });

  it('draws used holes as screws, covered ones dashed, the others with their thread', () => {
    const markup = drawn();
    // Four screws as sink, head and socket; two of twenty holes under the plate are not used; fourteen stand free.
    expect(
      circles(markup, 'ps-bolt')
        .map(([, , r]) => r)
        .toSorted(),
    ).toEqual([5, 5, 5, 5, 5.5, 5.5, 5.5, 5.5]);
    expect(circles(markup, 'ps-hidden-edge').map(([x, y]) => [x, y])).toEqual([
      [0, 20],
      [0, -20],
    ]);
    expect(circles(markup, 'ps-thin')).toHaveLength(14);
  });

  it('shades the deepest cut darkest and draws it last', () => {
    const markup = drawn();
    const order = [...markup.matchAll(/class="ps-cut ps-d(\d)"/g)].map(([, step]) => Number(step));
    expect(order).toEqual([1, 4, 5, 6]);
  });

  it('says the plate’s size as it lies on the face', () => {
    const markup = drawn({
      registration: { ...exampleRegistration(), placement: { rotationDeg: 90, shift: { x: 0, y: 0 } } },
    });
    const words = [...markup.matchAll(/<text class="ps-dim-text[^>]*>([^<]+)</g)].map(([, text]) => text);
    expect(words).toEqual(['70.0', '110.0']);
  });

  it('rings a wrong hole and points from it to where it should be', () => {
    const markup = drawn({ drawing: examplePlate(3), registration: exampleRegistration(3) });
    expect(circles(markup, 'ps-ring ps-tone-stop').map(([x, y]) => [x, y])).toEqual([[43, 20]]);
    expect(circles(markup, 'ps-hidden-edge ps-tone-stop')).toEqual([[40, 20, 3]]);
    expect(markup).toMatch(/class="ps-dim ps-tone-stop" d="M[\d.]+ 20L40 20"/);
    expect(markup).toContain('>3.0</text>');
    expect(circles(markup, 'ps-bolt').map(([, , r]) => r)).toContain(3.3);
  });

  it('says where no tapped hole was left for one', () => {
    const registration = exampleRegistration(3);
    const matches = registration.matches.map((match) => (match.matched ? match : { ...match, hole: null }));
    const markup = drawn({ registration: { ...registration, matches } });
    expect(markup).toContain('>no hole</text>');
    expect(count(markup, 'ps-hidden-edge ps-tone-stop')).toBe(0);
  });

  it.each([2, 3, 8, 12, 30])('keeps %d balloons apart that point at one place', (many) => {
    const at = { x: 20, y: 10 };
    const balloons = Array.from({ length: many }, (_none, index) => ({
      words: String(index + 1),
      tone: 'ink' as const,
      at,
    }));
    const rings = circles(drawn({ balloons }), 'ps-balloon-ring ps-tone-ink');
    expect(rings).toHaveLength(many);
    for (const [index, [x, y, r]] of rings.entries())
      for (const [otherX, otherY] of rings.slice(index + 1))
        expect(Math.hypot(x - otherX, y - otherY)).toBeGreaterThan(2 * r);
  });

  it('escapes its words', () => {
    const markup = drawn({ label: '"<b>"', words: { face: '<i>', noHole: '', length: String } });
    expect(markup).toContain('aria-label="&quot;&lt;b&gt;&quot;"');
    expect(markup).toContain('&lt;i&gt;</text>');
  });
});
