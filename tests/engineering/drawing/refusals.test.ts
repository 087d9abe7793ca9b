import { describe, expect, it } from 'vitest';
import {
  DRAWING_REFUSALS,
  type DrawingReason,
  DrawingRefused,
} from '../../../server/engineering/drawing/drawing-refusal.js';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import {
  arc,
  circle,
  dxf,
  type Entity,
  ellipse,
  insert,
  layerRecord,
  line,
  lwpolyline,
  note,
  plateWith,
  point,
  rectangle,
  soundPlate,
  text,
  type Vertex,
} from './dxf-writer.js';

const BOW_TIE: readonly Vertex[] = [
  [-30, 10],
  [-20, 20],
  [-20, 10],
  [-30, 20],
];

const FIT_POINTS: Entity = [
  [0, 'SPLINE'],
  [8, 'CAVITY 2'],
  [70, 0],
  [71, 3],
  [11, -30],
  [21, 5],
  [11, -20],
  [21, 9],
];

/** What is drawn, and the first reason it is refused for. One row at least for every code. */
const ROWS: readonly (readonly [what: string, drawing: string | Uint8Array, reason: DrawingReason])[] = [
  ['nothing at all', '', { code: 'drawing-empty' }],
  ['blank lines', ' \r\n\r\n', { code: 'drawing-empty' }],
  ['binary DXF', new TextEncoder().encode('AutoCAD Binary DXF\r\n\u001a\u0000'), { code: 'drawing-binary' }],
  ['a letter', 'Dear press', { code: 'drawing-not-dxf', value: 'Dear press', line: 1 }],
  [
    'numbers that are no drawing',
    '10\n1.0\n20\n2.0\n0\nEOF\n',
    { code: 'drawing-not-dxf', value: '1.0', line: 1 },
  ],
  [
    'a group code that is none',
    dxf({ entities: soundPlate() }).replace('8\nFEED', 'eight\nFEED'),
    { code: 'drawing-not-dxf', value: 'eight' },
  ],
  [
    'a file without its end',
    dxf({ entities: soundPlate() }).replace('EOF\n', ''),
    { code: 'drawing-truncated' },
  ],
  ['a file that breaks off', dxf({ entities: soundPlate() }).slice(0, -60), { code: 'drawing-truncated' }],
  [
    'a section without its end',
    text([
      [0, 'SECTION'],
      [2, 'ENTITIES'],
      [0, 'EOF'],
    ]),
    { code: 'drawing-truncated' },
  ],
  [
    'fifty megabytes',
    ' '.repeat(50_000_001),
    { code: 'drawing-too-large', value: 50_000_001, limit: 50_000_000 },
  ],
  ['no entities', dxf({ entities: [] }), { code: 'drawing-no-entities' }],
  [
    'no section of entities',
    text([
      [0, 'SECTION'],
      [2, 'HEADER'],
      [0, 'ENDSEC'],
      [0, 'EOF'],
    ]),
    { code: 'drawing-no-entities' },
  ],
  ['feet', dxf({ insunits: 2, entities: soundPlate() }), { code: 'drawing-units-unknown', value: '2' }],
  [
    'a unit that is no number',
    dxf({ insunits: 'mm', entities: soundPlate() }),
    { code: 'drawing-units-unknown', value: 'mm' },
  ],
  [
    'a radius that is no number',
    dxf({
      entities: soundPlate([
        [0, 'CIRCLE'],
        [8, 'BOLT'],
        [10, 1],
        [20, 2],
        [40, 'nan'],
      ]),
    }),
    { code: 'drawing-coordinate-not-finite', entity: 'CIRCLE', layer: 'BOLT', value: 'nan' },
  ],
  [
    'a coordinate too great for a number',
    dxf({
      entities: soundPlate([
        [0, 'CIRCLE'],
        [8, 'BOLT'],
        [10, '1e999'],
        [20, 2],
        [40, 3],
      ]),
    }),
    { code: 'drawing-coordinate-not-finite', entity: 'CIRCLE', layer: 'BOLT', value: '1e999' },
  ],
  [
    'a coordinate with a decimal comma',
    dxf({
      entities: soundPlate([
        [0, 'CIRCLE'],
        [8, 'BOLT'],
        [10, '1,5'],
        [20, 2],
        [40, 3],
      ]),
    }),
    { code: 'drawing-coordinate-not-finite', entity: 'CIRCLE', layer: 'BOLT', value: '1,5' },
  ],
  [
    'a hole eleven metres away',
    dxf({ entities: soundPlate(line('RUNNER 3 W4', [0, 0], [11_000, 7])) }),
    {
      code: 'drawing-coordinate-too-far',
      entity: 'LINE',
      layer: 'RUNNER 3 W4',
      at: { x: 11_000, y: 7 },
      limit: 10_000,
    },
  ],
  [
    'eleven metres in inches',
    dxf({ insunits: 1, entities: soundPlate(line('RUNNER 3 W4', [0, 0], [440, 7])) }),
    { code: 'drawing-coordinate-too-far', entity: 'LINE', layer: 'RUNNER 3 W4', at: { x: 11_176, y: 177.8 } },
  ],
  [
    'a block in itself',
    dxf({
      blocks: [{ name: 'A', entities: [insert('0', 'a', [1, 1])] }],
      entities: soundPlate(insert('0', 'A', [0, 0])),
    }),
    { code: 'drawing-block-nested-in-itself', block: 'A' },
  ],
  [
    'two blocks in each other',
    dxf({
      blocks: [
        { name: 'A', entities: [insert('0', 'B', [1, 1])] },
        { name: 'B', entities: [insert('0', 'A', [1, 1])] },
      ],
      entities: soundPlate(insert('0', 'A', [0, 0])),
    }),
    { code: 'drawing-block-nested-in-itself', block: 'A' },
  ],
  [
    'blocks sixty-five deep',
    dxf({ blocks: towerOfBlocks(70, 1), entities: soundPlate(insert('0', 'B0', [0, 0])) }),
    { code: 'drawing-blocks-too-deep', block: 'B64', limit: 64 },
  ],
  [
    'a bomb of blocks',
    dxf({ blocks: towerOfBlocks(20, 10), entities: soundPlate(insert('0', 'B0', [0, 0])) }),
    { code: 'drawing-too-many-entities', limit: 200_000 },
  ],
  [
    'an endless array',
    dxf({
      blocks: [{ name: 'E', entities: [] }],
      entities: soundPlate(insert('0', 'E', [0, 0], [70, 2e9], [71, 2e9])),
    }),
    { code: 'drawing-too-many-entities', limit: 200_000 },
  ],
  [
    'more entities than a plate has',
    dxf({ entities: Array.from({ length: 200_001 }, () => point('NOTES', [0, 0])) }),
    { code: 'drawing-too-many-entities', value: 200_001, limit: 200_000 },
  ],
  [
    'a block that is not there',
    dxf({ entities: soundPlate(insert('CAVITY 2', 'GONE', [0, 0])) }),
    { code: 'drawing-block-missing', entity: 'INSERT', layer: 'CAVITY 2', block: 'GONE' },
  ],
  [
    'a solid on a feature layer',
    dxf({
      entities: soundPlate([
        [0, 'SOLID'],
        [8, 'CAVITY 2'],
        [10, 0],
        [20, 0],
      ]),
    }),
    { code: 'drawing-entity-unsupported', entity: 'SOLID', layer: 'CAVITY 2' },
  ],
  [
    'an entity named like a property of every object',
    dxf({
      entities: soundPlate([
        [0, 'constructor'],
        [8, 'CAVITY 2'],
        [10, 0],
        [20, 0],
      ]),
    }),
    { code: 'drawing-entity-unsupported', entity: 'constructor', layer: 'CAVITY 2' },
  ],
  [
    'a mesh',
    dxf({
      entities: soundPlate([
        [0, 'POLYLINE'],
        [8, 'CAVITY 2'],
        [70, 64],
      ]),
    }),
    { code: 'drawing-entity-unsupported', entity: 'POLYLINE', layer: 'CAVITY 2' },
  ],
  [
    'a point on a cavity layer',
    dxf({ entities: soundPlate(point('CAVITY 2', [-20, 5])) }),
    { code: 'drawing-entity-unsupported', entity: 'POINT', layer: 'CAVITY 2', at: { x: -20, y: 5 } },
  ],
  [
    'a circle without a radius',
    dxf({
      entities: soundPlate([
        [0, 'CIRCLE'],
        [8, 'BOLT'],
        [10, 1],
        [20, 2],
      ]),
    }),
    { code: 'drawing-entity-damaged', entity: 'CIRCLE', layer: 'BOLT', value: 40 },
  ],
  [
    'a circle of no radius',
    dxf({ entities: soundPlate(circle('BOLT', [-40, -30], 0)) }),
    { code: 'drawing-entity-damaged', entity: 'CIRCLE', layer: 'BOLT', at: { x: -40, y: -30 } },
  ],
  [
    'a flat ellipse',
    dxf({ entities: soundPlate(ellipse('CAVITY 2', [-20, 5], [5, 0], 0)) }),
    { code: 'drawing-entity-damaged', entity: 'ELLIPSE', layer: 'CAVITY 2' },
  ],
  [
    'a spline without its knots',
    dxf({
      entities: soundPlate([
        [0, 'SPLINE'],
        [8, 'CAVITY 2'],
        [71, 1],
        [10, 0],
        [20, 0],
        [10, 1],
        [20, 1],
      ]),
    }),
    { code: 'drawing-entity-damaged', entity: 'SPLINE', layer: 'CAVITY 2' },
  ],
  [
    'a circle that stands on its edge',
    dxf({ entities: soundPlate(circle('BOLT', [-40, -30], 3, [210, 0], [220, 1], [230, 0])) }),
    { code: 'drawing-entity-not-flat', entity: 'CIRCLE', layer: 'BOLT' },
  ],
  [
    'a spline of fit points',
    dxf({ entities: soundPlate(FIT_POINTS) }),
    { code: 'drawing-spline-fit-points-only', entity: 'SPLINE', layer: 'CAVITY 2', at: { x: -30, y: 5 } },
  ],
  [
    'a cavity without its depth',
    dxf({ entities: plateWith(rectangle('CAVITY', [10, 20], 20, 10)) }),
    { code: 'drawing-layer-without-depth', layer: 'CAVITY', entity: 'LWPOLYLINE' },
  ],
  [
    'a feed without a depth that no runner meets',
    dxf({
      entities: [
        rectangle('PLATE', [-50, -40], 100, 80),
        circle('FEED', [0, 0], 2),
        circle('CAVITY 2', [20, 0], 5),
      ],
    }),
    { code: 'drawing-layer-without-depth', layer: 'FEED', at: { x: 0, y: 0 } },
  ],
  [
    'a layer name that makes no sense',
    dxf({ entities: soundPlate(circle('BOLT M6', [-40, -30], 3)) }),
    { code: 'drawing-layer-unreadable', layer: 'BOLT M6', entity: 'CIRCLE' },
  ],
  [
    'a cavity with a gap',
    dxf({
      entities: soundPlate(
        lwpolyline(
          'CAVITY 2',
          [
            [-30, 5],
            [-20, 5],
            [-20, 9],
            [-30, 9],
            [-30, 5.06],
          ],
          false,
        ),
      ),
    }),
    {
      code: 'drawing-contour-open',
      layer: 'CAVITY 2',
      at: { x: -30, y: 5 },
      to: { x: -30, y: 5.06 },
      lengthMm: 0.06,
    },
  ],
  [
    'an open cavity line, even with a width',
    dxf({ entities: soundPlate(line('CAVITY 2 W3', [-30, 5], [-20, 5])) }),
    {
      code: 'drawing-contour-open',
      layer: 'CAVITY 2 W3',
      at: { x: -30, y: 5 },
      to: { x: -20, y: 5 },
      lengthMm: 10,
    },
  ],
  [
    'an open plate',
    dxf({ entities: soundPlate(line('PLATE', [-30, 5], [-20, 5])) }),
    { code: 'drawing-contour-open', layer: 'PLATE', lengthMm: 10 },
  ],
  [
    'a bow tie',
    dxf({ entities: soundPlate(lwpolyline('CAVITY 2', BOW_TIE, true)) }),
    { code: 'drawing-contour-self-crossing', layer: 'CAVITY 2', entity: 'LWPOLYLINE', at: { x: -25, y: 15 } },
  ],
  [
    'a bow tie of lines that cross in a shared corner',
    dxf({
      entities: soundPlate(
        lwpolyline(
          'CAVITY 2',
          [
            [-30, 10],
            [-25, 15],
            [-20, 20],
            [-20, 10],
            [-25, 15],
            [-30, 20],
          ],
          true,
        ),
      ),
    }),
    { code: 'drawing-contour-self-crossing', layer: 'CAVITY 2', at: { x: -25, y: 15 } },
  ],
  [
    'a contour that goes there and back',
    dxf({
      entities: soundPlate(
        lwpolyline(
          'CAVITY 2',
          [
            [-30, 5],
            [-20, 5],
          ],
          true,
        ),
      ),
    }),
    { code: 'drawing-contour-empty', layer: 'CAVITY 2', at: { x: -30, y: 5 } },
  ],
  [
    'a runner line without a width',
    dxf({ entities: soundPlate(line('RUNNER 3', [0, 0], [9, 0])) }),
    {
      code: 'drawing-open-path-without-width',
      layer: 'RUNNER 3',
      at: { x: 0, y: 0 },
      to: { x: 9, y: 0 },
      lengthMm: 9,
    },
  ],
  [
    'a cooling bore without a width',
    dxf({ entities: soundPlate(circle('WATER 12', [0, 0], 30)) }),
    { code: 'drawing-open-path-without-width', layer: 'WATER 12', entity: 'CIRCLE', at: { x: 30, y: 0 } },
  ],
  [
    'a square bolt hole',
    dxf({ entities: soundPlate(rectangle('BOLT', [-41, -31], 2, 2)) }),
    { code: 'drawing-not-a-circle', layer: 'BOLT', at: { x: -40, y: -30 } },
  ],
  [
    'an elliptic dowel hole',
    dxf({ entities: soundPlate(ellipse('DOWEL', [-40, -30], [3, 0], 0.9)) }),
    { code: 'drawing-not-a-circle', layer: 'DOWEL', at: { x: -40, y: -30 } },
  ],
  [
    'a square feed',
    dxf({
      entities: [
        rectangle('PLATE', [-50, -40], 100, 80),
        rectangle('FEED 3', [-1, -1], 2, 2),
        circle('CAVITY 2', [9, 0], 5),
      ],
    }),
    { code: 'drawing-not-a-circle', layer: 'FEED 3' },
  ],
  [
    'no plate',
    dxf({ entities: [circle('FEED 3', [0, 0], 2), circle('CAVITY 2', [9, 0], 5)] }),
    { code: 'drawing-no-plate' },
  ],
  [
    'two plates side by side',
    dxf({ entities: soundPlate(rectangle('PLATE', [60, 0], 20, 20)) }),
    { code: 'drawing-two-plates', layer: 'PLATE', at: { x: 60, y: 0 } },
  ],
  [
    'a plate in an opening of the plate',
    dxf({
      entities: soundPlate(rectangle('PLATE', [-45, -35], 20, 20), rectangle('PLATE', [-40, -30], 5, 5)),
    }),
    { code: 'drawing-two-plates', layer: 'PLATE', at: { x: -40, y: -30 } },
  ],
  [
    'no feed',
    dxf({ entities: [rectangle('PLATE', [0, 0], 9, 9), circle('CAVITY 2', [4, 4], 2)] }),
    { code: 'drawing-no-feed' },
  ],
  [
    'two feeds',
    dxf({ entities: soundPlate(circle('FEED 3', [-20, 0], 2)) }),
    { code: 'drawing-two-feeds', layer: 'FEED 3', at: { x: -20, y: 0 } },
  ],
  [
    'a feed drawn as a circle and as a point',
    dxf({ entities: soundPlate(point('FEED 3', [0, 0])) }),
    { code: 'drawing-two-feeds', layer: 'FEED 3', at: { x: 0, y: 0 } },
  ],
  ['no cavity', dxf({ entities: plateWith() }), { code: 'drawing-no-cavity' }],
  [
    'an island and no cavity',
    dxf({ entities: plateWith(circle('CAVITY 0', [20, 0], 5)) }),
    { code: 'drawing-no-cavity' },
  ],
  [
    'a sink without its bolt hole',
    dxf({ entities: soundPlate(circle('BOLT', [-40, -30], 3.3), circle('SINK 7', [-30, -30], 5.5)) }),
    { code: 'drawing-sink-without-bolt', layer: 'SINK 7', at: { x: -30, y: -30 } },
  ],
  [
    'a bolt hole beside the plate',
    dxf({ entities: soundPlate(circle('BOLT', [-60, -30], 3.3)) }),
    { code: 'drawing-outside-plate', layer: 'BOLT', at: { x: -60, y: -30 } },
  ],
  [
    'a cavity beside the plate',
    dxf({ entities: soundPlate(rectangle('CAVITY 2', [-80, 5], 10, 10)) }),
    { code: 'drawing-outside-plate', layer: 'CAVITY 2', at: { x: -80, y: 5 } },
  ],
  [
    'five thousand lines that all begin in one place',
    dxf({
      entities: soundPlate(
        ...Array.from({ length: 5000 }, (_, i) => line('CAVITY 2', [0, 0], [i / 100, 20])),
      ),
    }),
    { code: 'drawing-too-intricate' },
  ],
  [
    'three thousand channels that all cross',
    dxf({
      entities: soundPlate(
        ...Array.from({ length: 3000 }, (_, i) => line('RUNNER 3 W4', [-40, i / 100], [40, 30 - i / 100])),
      ),
    }),
    { code: 'drawing-too-intricate' },
  ],
];

describe('a drawing', () => {
  it.each(ROWS)('with %s is refused', (_, drawing, wanted) => {
    const [first] = reasonsOf(drawing);
    expect(first).toMatchObject({ ...wanted, ...closeTo(wanted) });
  });

  it('is refused by every code there is, but for the one that only a running service can give', () => {
    const shown = new Set(ROWS.map(([, , { code }]) => code));
    expect(DRAWING_REFUSALS.filter((code) => !shown.has(code))).toEqual(['drawing-took-too-long']);
  });

  it('hears of everything that is wrong at once', () => {
    const drawing = dxf({
      entities: plateWith(
        circle('BOLT M6', [0, 0], 3),
        circle('BOLT M6', [9, 0], 3),
        lwpolyline('CAVITY 2', BOW_TIE, true),
        arc('CAVITY 3', [20, 0], 5, 0, 90),
      ),
    });
    expect(reasonsOf(drawing).map(({ code }) => code)).toEqual([
      'drawing-layer-unreadable',
      'drawing-contour-self-crossing',
      'drawing-contour-open',
    ]);
  });

  it('hears of twenty things at most', () => {
    const bolts = Array.from({ length: 50 }, (_, i) => circle('BOLT', [100 + i, 0], 0));
    expect(reasonsOf(dxf({ entities: soundPlate(...bolts) }))).toHaveLength(20);
  });

  it('is not refused for what lies on layers that do not count', () => {
    const entities = soundPlate(
      circle('CAVITY 9', [0, 0], 0),
      circle('GATE', [0, 0], 3),
      note('SOLID', 'NOTES'),
      line('NOTES', [0, 0], [1e9, 0]),
      insert('CAVITY 9', 'GONE', [0, 0]),
    );
    const layers = [layerRecord('cavity 9', { frozen: true }), layerRecord('GATE', { off: true })];
    expect(() => measureDxf(dxf({ layers, entities }), { sprueDiameterMm: 3.5 })).not.toThrow();
  });
});

function towerOfBlocks(storeys: number, copies: number) {
  return Array.from({ length: storeys }, (_, i) => ({
    name: `B${i}`,
    entities: Array.from({ length: copies }, () => insert('0', `B${i + 1}`, [0, 0])),
  }));
}

function reasonsOf(drawing: string | Uint8Array): readonly DrawingReason[] {
  try {
    measureDxf(drawing, { sprueDiameterMm: 3.5 });
  } catch (error) {
    if (error instanceof DrawingRefused) return error.reasons;
    throw error;
  }
  throw new Error('the drawing was read');
}

/** Places and lengths are compared to a hundredth of a millimetre. */
function closeTo({ at, to, lengthMm }: DrawingReason) {
  const near = ({ x, y }: { x: number; y: number }) => ({ x: expect.closeTo(x, 2), y: expect.closeTo(y, 2) });
  return {
    ...(at ? { at: near(at) } : {}),
    ...(to ? { to: near(to) } : {}),
    ...(lengthMm === undefined ? {} : { lengthMm: expect.closeTo(lengthMm, 2) }),
  };
}
