import { expect, it } from 'vitest';
import type { Cavity } from '../../server/engineering/drawing/measured-drawing.js';
import { partRightWayRound } from '../../server/pictures/part-right-way-round.js';

/** An L: its foot points to the right on the drawing, so it points to the left in the hand. */
const L = [
  { x: 100, y: 50 },
  { x: 110, y: 50 },
  { x: 110, y: 52 },
  { x: 102, y: 52 },
  { x: 102, y: 66 },
  { x: 100, y: 66 },
];

const cavity: Cavity = {
  region: [L],
  levels: [{ depthMm: 3, region: [L], areaMm2: 48 }],
  areaMm2: 48,
  volumeMm3: 144,
  maxDepthMm: 3,
  centroid: { x: 102.75, y: 56 },
  widthMm: 10,
  heightMm: 16,
};

it('is the mirror of the cavity, as it is read in the hand', () => {
  const { markup } = partRightWayRound({ cavity, deepestMm: 3, label: 'L', words: { length: String } });
  const data = /class="ps-cut ps-d6" d="M([^"]+)z"/.exec(markup)?.[1] ?? '';
  // Corners about the middle of its box: the upright on the right, the foot to the left, y down.
  let [x = 0, y = 0] = (data.split('l')[0] ?? '').split(' ').map(Number);
  const corners = [[x, y]];
  const steps = (data.split('l')[1] ?? '').match(/-?[\d.]+/g)?.map(Number) ?? [];
  for (let index = 0; index < steps.length; index += 2) {
    x += steps[index] ?? 0;
    y += steps[index + 1] ?? 0;
    corners.push([x, y]);
  }
  expect(corners).toEqual([
    [5, 8],
    [-5, 8],
    [-5, 6],
    [3, 6],
    [3, -8],
    [5, -8],
  ]);
});

it('has its width, height and greatest depth as dimensions', () => {
  const { markup } = partRightWayRound({
    cavity,
    deepestMm: 3,
    label: 'L',
    words: { length: (mm) => `${mm} mm` },
  });
  const words = [...markup.matchAll(/<text[^>]*>([^<]+)</g)].map(([, text]) => text);
  expect(words).toEqual(['10 mm', '16 mm', '3 mm']);
});
