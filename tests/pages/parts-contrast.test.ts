import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const css = readFileSync(join(import.meta.dirname, '../../public/styles/platenshare.css'), 'utf8');

/** Every tone by its name, in light and in dark. */
const declared = [...css.matchAll(/--([a-z0-9-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);/g)];
const light = new Map(declared.map(([, name = '', tone = '']) => [name, tone]));
const dark = new Map(declared.map(([, name = '', , tone = '']) => [name, tone]));

/** Relative luminance and contrast ratio as WCAG 2.2 defines them. */
function luminance(tone: string): number {
  const channel = (at: number) => {
    const share = Number.parseInt(tone.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

function contrast(a: string, b: string): number {
  const [bright = 0, dim = 0] = [luminance(a), luminance(b)].toSorted((x, y) => y - x);
  return (bright + 0.05) / (dim + 0.05);
}

/** Text needs 4.5:1 (1.4.3), shapes and borders that carry meaning 3:1 (1.4.11). */
const PAIRS: readonly (readonly [front: string, ground: string, least: number])[] = [
  ['ink', 'sheet', 4.5],
  ['ink', 'bench', 4.5],
  ['ink', 'inset', 4.5],
  ['ink', 'steel', 4.5],
  ['ink', 'alu', 4.5],
  ['ink', 'key-wash', 4.5],
  ['soft', 'sheet', 4.5],
  ['soft', 'bench', 4.5],
  ['soft', 'inset', 4.5],
  ['soft', 'key-wash', 4.5],
  ['key', 'sheet', 4.5],
  ['key', 'inset', 4.5],
  ['on-key', 'key', 4.5],
  ['sheet', 'ink', 4.5],
  ['caution', 'sheet', 4.5],
  ['caution', 'caution-wash', 4.5],
  ['stop', 'sheet', 4.5],
  ['stop', 'stop-wash', 4.5],
  ['stop', 'steel', 3],
  ['stop', 'alu', 3],
  ['soft', 'alu', 3],
  ['rule', 'sheet', 3],
  ['focus', 'sheet', 3],
  ['focus', 'bench', 3],
  ['ink', 'd1', 3],
  ['ink', 'd2', 3],
  ['ink', 'd3', 3],
  ['ink', 'd4', 3],
];

describe.each([
  ['light', light],
  ['dark', dark],
])('tones of the %s sheet', (_name, tones) => {
  it.each(PAIRS)('%s on %s reaches %d to 1', (front, ground, least) => {
    const [a, b] = [tones.get(front), tones.get(ground)];
    if (!a || !b) throw new Error(`no tone ${front} or ${ground}`);
    expect(contrast(a, b)).toBeGreaterThanOrEqual(least);
  });

  it('darken with depth, every step', () => {
    const steps = [1, 2, 3, 4, 5, 6].map((step) => luminance(tones.get(`d${step}`) ?? ''));
    expect(steps).toEqual(steps.toSorted((a, b) => b - a));
    expect(new Set(steps).size).toBe(6);
  });
});

it('are written once, in one place', () => {
  expect(declared).toHaveLength(light.size);
  expect([...css.matchAll(/#[0-9a-f]{6}/g)]).toHaveLength(2 * declared.length);
});
