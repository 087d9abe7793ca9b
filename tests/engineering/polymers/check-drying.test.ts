import { describe, expect, it } from 'vitest';
import { checkDrying } from '../../../server/engineering/polymers/check-drying.js';
import { findPolymer, POLYMERS, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import { wordFinding } from '../../../server/words/index.js';

const of = (symbol: string) => findPolymer(symbol) as Polymer;

describe('drying', () => {
  it('is clear for what needs none', () => {
    expect(checkDrying(of('PP'))).toMatchObject({
      verdict: 'clear',
      situation: 'not-needed',
      figure: null,
      cures: [],
    });
  });

  // imtechdesign.com, PC materials: 100 to 120 deg C, 3 to 4 h, down to 0.02 %; Covestro: 2 to 4 times as long in
  // circulating air.
  it('polycarbonate goes into the oven for 3 to 4 h, in circulating air for 6 to 16 h', () => {
    const finding = checkDrying(of('PC'));
    expect(finding).toMatchObject({ verdict: 'clear', situation: 'dry-first', figure: 3.5, unit: 'h' });
    expect(finding.figures).toMatchObject({
      temperatureMinC: 100,
      temperatureMaxC: 120,
      moistureMaxPercent: 0.02,
    });
    expect(finding.figures).toMatchObject({ airHoursMin: 6, airHoursMax: 16 });
    expect(wordFinding(finding).note).toMatch(/^Before the run, dry it 3\.5 h at 1[01]\d °C\./);
  });

  it('polyamide from an unopened bag is dry, and the advice says so', () => {
    expect(wordFinding(checkDrying(of('PA6'))).note).toMatch(/unopened moisture-proof bag/);
    expect(wordFinding(checkDrying(of('PC'))).note).not.toMatch(/unopened/);
  });

  it('is unknown where nobody knows, and says which figure is missing', () => {
    const finding = checkDrying({ ...of('PP'), drying: null });
    expect(finding).toMatchObject({ verdict: 'unknown', figures: { missing: 'drying' } });
    expect(wordFinding(finding).summary).toMatch(/not known/);
  });

  it.each(POLYMERS.map((polymer) => [polymer.symbol, polymer] as const))('%s can be said', (_, polymer) => {
    const words = wordFinding(checkDrying(polymer));
    expect(`${words.line} ${words.summary} ${words.note} ${words.advice}`).not.toMatch(/undefined|NaN|null/);
  });
});
