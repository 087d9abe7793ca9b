import { describe, expect, it } from 'vitest';
import { layerMeaning } from '../../../server/engineering/drawing/layer-name.js';

describe('a layer name', () => {
  it.each([
    ['CAVITY 3', 'CAVITY', 3, null],
    ['cavity 3', 'CAVITY', 3, null],
    ['Cavity_3', 'CAVITY', 3, null],
    ['CAVITY-3', 'CAVITY', 3, null],
    ['CAVITY  _ 3.25 ', 'CAVITY', 3.25, null],
    ['CAVITY 2,5', 'CAVITY', 2.5, null],
    ['CAVITY_2P5', 'CAVITY', 2.5, null],
    ['cavity_2p5mm', 'CAVITY', 2.5, null],
    ['CAVITY 2.5MM', 'CAVITY', 2.5, null],
    ['CAVITY_2,5 mm', 'CAVITY', 2.5, null],
    ['CAVITY 0', 'CAVITY', 0, null],
    ['CAVITY 3 W2', 'CAVITY', 3, 2],
    ['RUNNER 3 W4', 'RUNNER', 3, 4],
    ['RUNNER_3_W4,5', 'RUNNER', 3, 4.5],
    ['runner-3mm-w4p5mm', 'RUNNER', 3, 4.5],
    ['RUNNER 3', 'RUNNER', 3, null],
    ['GATE .8 W2', 'GATE', 0.8, 2],
    ['VENT 0.02 W5', 'VENT', 0.02, 5],
    ['FEED', 'FEED', null, null],
    ['FEED 3', 'FEED', 3, null],
    ['SINK 7', 'SINK', 7, null],
    ['BOLT', 'BOLT', null, null],
    ['DOWEL', 'DOWEL', null, null],
    ['PLATE', 'PLATE', null, null],
    [' plate ', 'PLATE', null, null],
    ['WATER 14 W8', 'WATER', 14, 8],
  ])('%s is %s, %s deep, %s wide', (name, feature, depthMm, widthMm) => {
    expect(layerMeaning(name)).toEqual({ kind: 'feature', layer: { name, feature, depthMm, widthMm } });
  });

  it.each(['CAVITY', 'RUNNER', 'runner W4', 'GATE_', 'VENT', 'SINK', 'WATER W8'])(
    '%s lacks its depth',
    (name) => {
      expect(layerMeaning(name).kind).toBe('without-depth');
    },
  );

  it.each([
    'CAVITY 3 4',
    'CAVITY3',
    'CAVITY 3 DEEP',
    'CAVITY 2.5.1',
    'CAVITY 3 W',
    'CAVITY 3 WIDE4',
    'RUNNER W4 3',
    'RUNNER 3 W0',
    'RUNNER 3 4W',
    'CAVITY 99999',
    'PLATE 16',
    'PLATE W4',
    'BOLT 6.6',
    'BOLT M6',
    'DOWEL 6',
    'FEED 3 W4',
    'FEED 0',
    'SINK 7 W11',
    'WATER 0 W8',
  ])('%s is refused rather than guessed at', (name) => {
    expect(layerMeaning(name).kind).toBe('unreadable');
  });

  it.each([
    '0',
    'NOTES',
    'DIMENSIONS',
    'PLATES',
    'BOLTS',
    'CAVITY-NOTES',
    'PLATE TEXT',
    'MY CAVITY 3',
    '',
    'Défpoints',
  ])('%s is no feature', (name) => {
    expect(layerMeaning(name).kind).toBe('not-a-feature');
  });

  it('of any length is read at once', () => {
    expect(layerMeaning(`CAVITY 3${' _-'.repeat(100_000)}x`).kind).toBe('not-a-feature');
  });
});
