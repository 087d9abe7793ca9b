import { describe, expect, it } from 'vitest';
import { depthStep } from '../../server/pictures/depth-steps.js';
import { hatch } from '../../server/pictures/hatch.js';
import { regionPath } from '../../server/pictures/region-path.js';
import { element } from '../../server/pictures/svg.js';

describe('the step of a depth', () => {
  it.each([
    [0.02, 3, 1],
    [0.5, 3, 1],
    [0.51, 3, 2],
    [1.8, 3, 4],
    [2.5, 3, 5],
    [3, 3, 6],
    [0.3, 0.3, 6],
  ])('%d of %d mm is step %d', (depthMm, deepestMm, step) => {
    expect(depthStep(depthMm, deepestMm)).toBe(step);
  });
});

describe('hatching', () => {
  it.each([true, false])('stays inside its box (rising: %s)', (rising) => {
    const ends = hatch(3, 8, 61.5, 22, 6, rising).match(/-?[\d.]+ -?[\d.]+/g) ?? [];
    expect(ends.length).toBeGreaterThan(16);
    for (const end of ends) {
      const [x = Number.NaN, y = Number.NaN] = end.split(' ').map(Number);
      expect(x).toBeGreaterThanOrEqual(3);
      expect(x).toBeLessThanOrEqual(61.5);
      expect(y).toBeGreaterThanOrEqual(8);
      expect(y).toBeLessThanOrEqual(22);
    }
  });

  it('leans the other way when it falls', () => {
    expect(hatch(0, 0, 10, 10, 20, true)).toBe('M0 10L10 0');
    expect(hatch(0, 0, 10, 10, 20, false)).toBe('M0 0L10 10');
  });

  it('is nothing in a box without width', () => {
    expect(hatch(5, 0, 5, 10, 6)).toBe('');
  });
});

describe('the path of a region', () => {
  const same = ({ x, y }: { x: number; y: number }) => ({ x, y });

  it('is exact to a hundredth however long the ring', () => {
    const ring = Array.from({ length: 400 }, (_none, index) => {
      const angle = (index * Math.PI) / 200;
      return { x: 50 + 11.111 * Math.cos(angle), y: 7.777 + 11.111 * Math.sin(angle) };
    });
    const data = regionPath([ring], same);
    const [start = '', steps = ''] = data.slice(1, -1).split('l');
    let [x = 0, y = 0] = start.split(' ').map(Number);
    const numbers = steps.match(/-?[\d.]+/g)?.map(Number) ?? [];
    for (let index = 0; index < numbers.length; index += 2) {
      x += numbers[index] ?? 0;
      y += numbers[index + 1] ?? 0;
      expect(Math.abs(Math.hypot(x - 50, y - 7.777) - 11.111)).toBeLessThan(0.02);
    }
    expect(numbers.length / 2).toBeLessThan(80);
  });

  it('keeps every corner of a polygon', () => {
    const ring = [0, 1, 2, 3, 4, 5, 6, 7].map((index) => ({ x: index, y: index % 2 }));
    expect(regionPath([ring], same)).toBe('M0 0l 1 1 1-1 1 1 1-1 1 1 1-1 1 1z');
  });
});

describe('an element', () => {
  it('rounds numbers, escapes text and leaves out what is undefined', () => {
    expect(element('a', { x: 1.23456, y: -0.001, title: '"<&', z: undefined })).toBe(
      '<a x="1.23" y="0" title="&quot;&lt;&amp;"/>',
    );
  });
});
