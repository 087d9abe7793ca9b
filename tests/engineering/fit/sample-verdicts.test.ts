import { describe, expect, it } from 'vitest';
import { wordFinding } from '../../../server/words/index.js';
import { keyedBolster } from '../../support/gullwing.js';
import { fitFinding, fitFindings } from './check-plate-fit.js';
import { expectedSamples, sampleDrawing } from './samples.js';

/** Not clear, as `check: verdict situation`. */
function notClear(file: string, given = {}): readonly string[] {
  return fitFindings(sampleDrawing(file), given)
    .filter((finding) => finding.verdict !== 'clear')
    .map((finding) => `${finding.check}: ${finding.verdict} ${finding.situation}`);
}

describe('ordinary plates come out clear in every fit check', () => {
  it.each([
    'tile-spacer-4up.dxf',
    'seed-label-2up.dxf',
    'hive-spacer-inch.dxf',
    'board-counter-8up.dxf',
    'bike-shim-r12.dxf',
    'pot-riser-blocks.dxf',
    'ruler-clip-rotated.dxf',
    'ruler-clip-offset.dxf',
    'no-units-decimal-comma-layers.dxf',
    'duplicates.dxf',
    'plant-tag-end-fed.dxf',
    'tiny-token.dxf',
    'loop-runner.dxf',
    'layers-off-and-notes.dxf',
    'off-centre-cavity.dxf',
    'unequal-gates.dxf',
    'no-vent.dxf',
  ])('%s', (file) => {
    expect(notClear(file)).toEqual([]);
  });
});

describe('what is wrong is found, and nothing else', () => {
  it.each([
    ['bolt-off-grid.dxf', ['bolt-pattern: stop hole-off']],
    ['feed-off-centre.dxf', ['feed-on-sprue: stop off-sprue']],
    ['plate-too-wide.dxf', ['face: stop overhangs']],
    ['bolt-through-cavity.dxf', ['walls: stop into-hole']],
    ['thin-wall-to-edge.dxf', ['bolt-pattern: caution load-outside-screws', 'walls: caution thin-wall']],
    ['head-sinks.dxf', ['walls: caution thin-wall']],
    ['deep-cap.dxf', ['walls: caution thin-wall']],
    // Its cooling bore of 8 mm lies 14 mm deep in 16 mm: it is open at the back, and 1 mm from a dowel.
    ['drawer-pull.dxf', ['walls: caution water-open-at-back']],
  ])('%s', (file, expected) => {
    expect(notClear(file)).toEqual(expected);
  });

  it('a caution says what to do: a groove with a seal, screws round the load', () => {
    const adviceOf = (check: Parameters<typeof fitFinding>[0], file: string) =>
      wordFinding(fitFinding(check, sampleDrawing(file)));
    const groove = adviceOf('walls', 'drawer-pull.dxf');
    expect(groove.summary).toMatch(/meant as a groove with a seal/);
    expect(groove.advice).toMatch(/without the seal run no water/);
    expect(adviceOf('bolt-pattern', 'thin-wall-to-edge.dxf').note).toMatch(/More screws round the load/);
  });

  it('a plate drawn from the back is told as such on a keyed bolster', () => {
    expect(notClear('mirrored-view.dxf', { bolster: keyedBolster })).toEqual([
      'face: stop seen-from-back',
      'bolt-pattern: stop seen-from-back',
    ]);
    const face = fitFinding('face', sampleDrawing('mirrored-view.dxf'), { bolster: keyedBolster });
    expect(face).toMatchObject({ figure: null, limit: null, allowed: null, margin: null });
  });
});

describe('walls agree with the distances that another program measured', () => {
  const WALL_MM = 0.02;
  it.each([
    ['head-sinks.dxf', 'cavity_to_sink'],
    ['thin-wall-to-edge.dxf', 'cavity_to_edge'],
    ['unequal-gates.dxf', 'cavity_to_bolt_hole'],
    ['too-much-area.dxf', 'cavity_to_edge'],
  ] as const)('%s %s', (file, wall) => {
    const expected = expectedSamples()[file]?.min_wall_mm[wall] ?? Number.NaN;
    const finding = fitFinding('walls', sampleDrawing(file));
    const sinkRimMm = wall === 'cavity_to_bolt_hole' ? (11 - 6.6) / 2 : 0;
    expect(Math.abs((finding.figure ?? Number.NaN) - (expected - sinkRimMm))).toBeLessThanOrEqual(WALL_MM);
  });
});
