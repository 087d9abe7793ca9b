import { describe, expect, it } from 'vitest';
import { gauge } from '../../server/pictures/gauge.js';

const WIDTH = 200;

function drawn(finding: Parameters<typeof gauge>[0]): string {
  return gauge(finding, WIDTH)?.markup ?? '';
}

function limits(markup: string): readonly number[] {
  return [...markup.matchAll(/class="ps-limit" d="M([\d.]+) /g)].map(([, x]) => Number(x));
}

function block(markup: string, className: string): readonly number[] | undefined {
  const [, x, width] =
    new RegExp(`class="${className}" x="([^"]+)" y="8" width="([^"]+)"`).exec(markup) ?? [];
  return x === undefined ? undefined : [Number(x), Number(width)];
}

describe('a gauge', () => {
  it.each([
    ['at least, with room', { verdict: 'clear', figure: 9, limit: 6, margin: 3 }],
    ['at most, with room', { verdict: 'clear', figure: 3, limit: 6, margin: 3 }],
  ] as const)('%s: limit at 40 %%, half the room to the right', (_name, finding) => {
    const markup = drawn(finding);
    expect(limits(markup)).toEqual([80]);
    expect(markup).toContain('M80 15H139');
  });

  it('breaks a line longer than its room', () => {
    expect(drawn({ verdict: 'clear', figure: 22, limit: 4.5, margin: 17.5 })).toContain(
      'l3 -6 6 12 3 -6H198',
    );
  });

  it('points a short margin at its limit from outside', () => {
    const markup = drawn({ verdict: 'clear', figure: 6.5, limit: 6, margin: 0.5 });
    expect(markup).toMatch(/M89\.83 8V22M89\.83 15H106\.83/);
  });

  it('shows what is missing solid for a stop, its limit at 90 %', () => {
    const markup = drawn({ verdict: 'stop', figure: 10, limit: 12, margin: -2 });
    expect(limits(markup)).toEqual([180]);
    expect(block(markup, 'ps-gap')).toEqual([150, 30]);
  });

  it('shows what is missing washed, with its length, for a caution', () => {
    const markup = drawn({ verdict: 'caution', figure: 4.2, limit: 3, margin: -1.2 });
    expect(block(markup, 'ps-caution-block')).toEqual([108, 72]);
    expect(markup).toContain('ps-dim ps-tone-caution');
    expect(block(markup, 'ps-gap')).toBeUndefined();
  });

  it('has two limits for a range and measures to the nearer', () => {
    const markup = drawn({ verdict: 'clear', figure: 0.02, limit: { min: 0.013, max: 0.03 }, margin: 0.007 });
    expect(limits(markup)).toEqual([50, 154]);
    expect(markup).toContain('M50 15H92.82');
  });

  it.each([
    ['above', { figure: 0.045, margin: -0.015 }, [90, 90]],
    ['below', { figure: 0.01, margin: -0.01 }, [90, 90]],
  ] as const)('shows a figure %s a range as missing from the limit it passes', (_name, judged, missing) => {
    const markup = drawn({ verdict: 'stop', limit: { min: 0.02, max: 0.03 }, ...judged });
    expect(limits(markup)).toEqual([180]);
    expect(block(markup, 'ps-gap')).toEqual(missing);
  });

  it.each([
    ['limit', { verdict: 'clear', figure: 1, limit: null, margin: null }],
    ['figure', { verdict: 'unknown', figure: null, limit: 3, margin: null }],
  ] as const)('is not drawn without a %s', (_name, finding) => {
    expect(gauge(finding)).toBeNull();
  });

  it('takes a limit of nought without losing itself', () => {
    const markup = drawn({ verdict: 'stop', figure: 0.4, limit: 0, margin: -0.4 });
    expect(markup).not.toMatch(/NaN|Infinity/);
    expect(block(markup, 'ps-gap')).toEqual([0, 180]);
  });

  it('is silent, for the words stand beside it', () => {
    expect(drawn({ verdict: 'clear', figure: 9, limit: 6, margin: 3 })).toContain('aria-hidden="true"');
  });
});
