import { describe, expect, it } from 'vitest';
import {
  INDUCTION_FIGURES,
  inductionFigure,
  isInductionFigure,
} from '../../server/pictures/induction-figures.js';
import { qr } from '../../server/pictures/qr.js';

describe.each(INDUCTION_FIGURES)('%s', (name) => {
  const { markup } = inductionFigure(name);

  it('says in words what it shows', () => {
    expect(/aria-label="([^"]+)"/.exec(markup)?.[1]?.length).toBeGreaterThan(60);
  });

  it('has no number that is none, no style and no script', () => {
    expect(markup).not.toMatch(/NaN|undefined|Infinity|style=|<script|on\w+=/);
  });

  it('names every numbered place in its words', () => {
    const places = [...markup.matchAll(/>(\d)<\/text>/g)].map(([, number]) => Number(number));
    const label = /aria-label="([^"]+)"/.exec(markup)?.[1] ?? '';
    for (const place of places) expect(label).toMatch(new RegExp(`(^|[ .;])${place} `));
  });
});

it('knows its own names only', () => {
  expect(['toString', '__proto__', 'castle'].some(isInductionFigure)).toBe(false);
});

describe('a QR symbol', () => {
  const ADDRESS = 'https://gullwing.example/verify/abcdefghijklmnopqrstuvwx';
  const { markup } = qr(ADDRESS, 'Code');

  it('keeps four quiet modules round it and its three finder patterns', () => {
    const size = Number(/viewBox="0 0 (\d+) \d+"/.exec(markup)?.[1]);
    const dark = new Set([...markup.matchAll(/M(\d+) (\d+)h1/g)].map(([, x, y]) => `${x} ${y}`));
    for (const place of dark) {
      const [x = 0, y = 0] = place.split(' ').map(Number);
      expect(x >= 4 && y >= 4 && x < size - 4 && y < size - 4).toBe(true);
    }
    for (const [x, y] of [
      [4, 4],
      [size - 11, 4],
      [4, size - 11],
    ] as const) {
      const ring = Array.from({ length: 7 }, (_, i) => dark.has(`${x + i} ${y}`));
      expect(ring).toEqual(Array(7).fill(true));
      expect(dark.has(`${x + 1} ${y + 1}`)).toBe(false);
      expect(dark.has(`${x + 3} ${y + 3}`)).toBe(true);
    }
  });

  it('is another for another address', () => {
    expect(qr(`${ADDRESS}x`, 'Code').markup).not.toBe(markup);
  });
});
