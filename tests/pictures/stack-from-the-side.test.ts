import { describe, expect, it } from 'vitest';
import {
  EXAMPLE_BOLSTER,
  EXAMPLE_PLATE_FACTS,
  examplePlate,
  exampleRegistration,
} from '../../server/pictures/example-plate.js';
import { stackFromTheSide } from '../../server/pictures/stack-from-the-side.js';

function drawn(change: Partial<typeof EXAMPLE_PLATE_FACTS> = {}, minimumDaylightMm = 12): string {
  return stackFromTheSide({
    drawing: examplePlate(),
    registration: exampleRegistration(),
    bolster: { ...EXAMPLE_BOLSTER, minimumDaylightMm },
    plate: { ...EXAMPLE_PLATE_FACTS, ...change },
    balloon: null,
    label: 'A stack',
    words: { length: (mm) => mm.toFixed(1), least: (mm) => `${mm.toFixed(1)} min` },
  }).markup;
}

function boxes(markup: string, className: string): readonly (readonly [x: number, width: number])[] {
  const pattern = new RegExp(`<rect class="${className}" x="([^"]+)" y="[^"]+" width="([^"]+)"`, 'g');
  return [...markup.matchAll(pattern)].map(([, x, width]) => [Number(x), Number(width)]);
}

describe('the stack from the side', () => {
  it('has the top and height of the view of the face, and asks for the same scale', () => {
    expect(drawn()).toMatch(/viewBox="[-\d.]+ -92 [\d.]+ 192" width="[\d.]+" height="1920"/);
  });

  it('leaves a solid gap up to the least daylight', () => {
    expect(boxes(drawn(), 'ps-gap')).toEqual([[10, 2]]);
  });

  it.each([12, 12.01, 16])('has no gap with a stack of %d mm', (thicknessMm) => {
    expect(boxes(drawn({ thicknessMm }), 'ps-gap')).toEqual([]);
  });

  it('puts the packer behind the plate and the facing plate before it', () => {
    const markup = drawn({ packerThicknessMm: 2, facingThicknessMm: 3 });
    expect(boxes(markup, 'ps-packer')).toEqual([
      [0, 2],
      [12, 3],
    ]);
    expect(boxes(markup, 'ps-plate')).toEqual([[2, 10]]);
    expect(markup).toContain('>15.0</text>');
  });

  it('sinks heads and reaches shanks as far as the screws are long', () => {
    const markup = drawn();
    // Plate face at 10, head bearing at 3.5, M6 x 12 from there into the moving half.
    expect(boxes(markup, 'ps-sink')).toEqual([
      [3.5, 6.5],
      [3.5, 6.5],
    ]);
    expect(boxes(markup, 'ps-screw')).toEqual([
      [-8.5, 12],
      [3.5, 6],
      [-8.5, 12],
      [3.5, 6],
    ]);
  });
});
