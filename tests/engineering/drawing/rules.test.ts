import { describe, expect, it } from 'vitest';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import {
  arc,
  circle,
  type DxfParts,
  dxf,
  type Entity,
  ellipse,
  type Group,
  insert,
  layerRecord,
  line,
  lwpolyline,
  note,
  plateWith,
  point,
  polyline,
  rectangle,
  soundPlate,
  text,
} from './dxf-writer.js';

const { PI } = Math;

/** Areas of curves come out at most a chord error times their length too small, and by a third of that on average. */
function curved(areaMm2: number, lengthMm: number) {
  return { areaMm2, within: 0.01 * lengthMm };
}

function read(entities: readonly Entity[], more: Omit<DxfParts, 'entities'> = {}): MeasuredDrawing {
  return measureDxf(dxf({ ...more, entities }), { sprueDiameterMm: 3.5 });
}

/** The cavity of a plate on which nothing else is drawn. */
function cavityOf(entities: readonly Entity[], more: Omit<DxfParts, 'entities'> = {}) {
  const { CAVITY } = read(plateWith(...entities), more).features;
  if (!CAVITY) throw new Error('no cavity');
  return CAVITY;
}

describe('shapes', () => {
  it.each<[string, readonly Entity[], { areaMm2: number; within: number }]>([
    ['a circle', [circle('CAVITY 2', [20, 0], 5)], curved(25 * PI, 10 * PI)],
    [
      'a circle of two arcs',
      [arc('CAVITY 2', [20, 0], 5, 90, 270), arc('CAVITY 2', [20, 0], 5, 270, 90)],
      curved(25 * PI, 10 * PI),
    ],
    ['an arc right round', [arc('CAVITY 2', [20, 0], 5, 30, 390)], curved(25 * PI, 10 * PI)],
    [
      'a polyline of two half circles',
      [
        lwpolyline(
          'CAVITY 2',
          [
            [15, 0, 1],
            [25, 0, 1],
          ],
          true,
        ),
      ],
      curved(25 * PI, 10 * PI),
    ],
    [
      'a clockwise one',
      [
        lwpolyline(
          'CAVITY 2',
          [
            [15, 0, -1],
            [25, 0, -1],
          ],
          true,
        ),
      ],
      curved(25 * PI, 10 * PI),
    ],
    [
      'an old polyline of two half circles',
      [
        polyline(
          'CAVITY 2',
          [
            [15, 0, 1],
            [25, 0, 1],
          ],
          true,
        ),
      ],
      curved(25 * PI, 10 * PI),
    ],
    ['an ellipse', [ellipse('CAVITY 2', [20, 0], [3, 4], 0.4)], curved(10 * PI, 24)],
    [
      'an ellipse of two parts',
      [ellipse('CAVITY 2', [20, 0], [3, 4], 0.4, 1, 4), ellipse('CAVITY 2', [20, 0], [3, 4], 0.4, 4, 1)],
      curved(10 * PI, 24),
    ],
    [
      'half an ellipse and a line',
      [ellipse('CAVITY 2', [20, 0], [5, 0], 0.4, 0, PI), line('CAVITY 2', [15, 0], [25, 0])],
      curved(5 * PI, 12),
    ],
    [
      'a clamped spline, straight',
      [
        spline(
          'CAVITY 2',
          1,
          [0, 0, 1, 2, 3, 4, 4],
          [
            [15, 0],
            [25, 0],
            [25, 8],
            [15, 8],
            [15, 0],
          ],
        ),
      ],
      { areaMm2: 80, within: 1e-6 },
    ],
    ['a rational spline, a true circle', [nurbsCircle('CAVITY 2', [20, 0], 5)], curved(25 * PI, 10 * PI)],
    [
      'a polyline that meets its beginning',
      [
        lwpolyline(
          'CAVITY 2',
          [
            [15, 0],
            [25, 0],
            [25, 8],
            [15, 8],
            [15, 0.04],
          ],
          false,
        ),
      ],
      { areaMm2: 80, within: 0.3 },
    ],
    [
      'a polyline that repeats its first point',
      [
        lwpolyline(
          'CAVITY 2',
          [
            [15, 0],
            [25, 0],
            [25, 8],
            [15, 8],
            [15, 0],
          ],
          true,
        ),
      ],
      { areaMm2: 80, within: 1e-6 },
    ],
    ['lines in any order and direction', loose('CAVITY 2'), { areaMm2: 80, within: 1e-6 }],
    [
      'a polyline with a display width',
      [
        lwpolyline(
          'CAVITY 2',
          [
            [15, 0],
            [25, 0],
            [25, 8],
            [15, 8],
          ],
          true,
          [43, 3],
        ),
      ],
      { areaMm2: 80, within: 1e-6 },
    ],
    [
      'a polyline with lines of no length',
      [...loose('CAVITY 2'), line('CAVITY 2', [15, 0], [15, 0])],
      { areaMm2: 80, within: 1e-6 },
    ],
    [
      'squares that touch in a corner, as lines',
      [...loose('CAVITY 2'), ...loose('CAVITY 2', [25, 8])],
      { areaMm2: 160, within: 1e-6 },
    ],
    [
      'a contour that touches itself',
      [
        lwpolyline(
          'CAVITY 2',
          [
            [15, 0],
            [20, 4],
            [25, 0],
            [25, 8],
            [20, 4],
            [15, 8],
          ],
          true,
        ),
      ],
      { areaMm2: 40, within: 1e-6 },
    ],
  ])('%s', (_, entities, { areaMm2, within }) => {
    const cavity = cavityOf(entities);
    expect(Math.abs(cavity.areaMm2 - areaMm2)).toBeLessThanOrEqual(within);
    expect(cavity.volumeMm3).toBeCloseTo(2 * cavity.areaMm2, 6);
  });

  it('takes any round contour for a hole, with its own centre and diameter', () => {
    const { bolts } = read(
      soundPlate(
        circle('BOLT', [-40, -30], 3.3),
        lwpolyline(
          'BOLT',
          [
            [-23.3, -30, 1],
            [-16.7, -30, 1],
          ],
          true,
        ),
        arc('BOLT', [0, -30], 3.3, 10, 100),
        arc('BOLT', [0, -30], 3.3, 100, 10),
        nurbsCircle('BOLT', [20, -30], 3.3),
      ),
    );
    expect(bolts).toHaveLength(4);
    for (const { at, diameterMm } of bolts) {
      expect(diameterMm).toBeCloseTo(6.6, 2);
      expect(at.y).toBeCloseTo(-30, 3);
    }
  });

  it('counts a hole drawn in two ways once', () => {
    const twice = [
      circle('BOLT', [-40, -30], 3.3),
      lwpolyline(
        'BOLT',
        [
          [-43.3, -30, 1],
          [-36.7, -30, 1],
        ],
        true,
      ),
    ];
    expect(read(soundPlate(...twice)).bolts).toHaveLength(1);
  });

  it('counts exact duplicates once, whichever way round', () => {
    const drawing = read(
      soundPlate(
        ...loose('CAVITY 3', [-40, 0]),
        line('CAVITY 3', [-30, 0], [-40, 0]),
        lwpolyline(
          'CAVITY 3',
          [
            [-30, 8],
            [-30, 0],
            [-40, 0],
            [-40, 8],
          ],
          true,
        ),
        line('RUNNER 3 W4', [0, 10], [0, 0]),
      ),
    );
    expect(drawing.features.CAVITY?.areaMm2).toBeCloseTo(280, 6);
    expect(drawing.notices).toEqual([
      { code: 'duplicates-dropped', layer: 'RUNNER 3 W4', count: 1 },
      { code: 'duplicates-dropped', layer: 'CAVITY 3', count: 2 },
    ]);
  });
});

describe('depths', () => {
  it('takes the innermost contour, like a map, down to an island', () => {
    const cavity = cavityOf([
      rectangle('CAVITY 3', [0, 0], 40, 30),
      rectangle('CAVITY 1', [5, 5], 20, 20),
      rectangle('CAVITY 0', [10, 10], 10, 10),
      rectangle('CAVITY 5', [12, 12], 2, 2),
    ]);
    expect(cavity.levels.map(({ depthMm, areaMm2 }) => [depthMm, Math.round(areaMm2 * 1e6) / 1e6])).toEqual([
      [1, 300],
      [3, 800],
      [5, 4],
    ]);
    expect(cavity.areaMm2).toBeCloseTo(1104, 6);
    expect(cavity.volumeMm3).toBeCloseTo(2400 + 300 + 20, 6);
    expect(cavity.maxDepthMm).toBe(5);
  });

  it('lets an inner contour share its line with the outer one', () => {
    const cavity = cavityOf([rectangle('CAVITY 3', [0, 0], 20, 10), rectangle('CAVITY 1', [0, 0], 5, 10)]);
    expect(cavity.volumeMm3).toBeCloseTo(150 * 3 + 50, 3);
    expect(cavity.areaMm2).toBeCloseTo(200, 3);
  });

  it('joins contours that cross, deepest first', () => {
    const cavity = cavityOf([rectangle('CAVITY 2', [0, 0], 20, 10), rectangle('CAVITY 3', [10, 5], 20, 10)]);
    expect(cavity.areaMm2).toBeCloseTo(200 + 200 - 50, 6);
    expect(cavity.volumeMm3).toBeCloseTo(150 * 2 + 200 * 3, 6);
  });

  it('keeps the innermost where its surroundings cross', () => {
    const cavity = cavityOf([
      rectangle('CAVITY 2', [0, 0], 20, 10),
      rectangle('CAVITY 3', [10, 0], 20, 12),
      rectangle('CAVITY 1', [12, 2], 4, 4),
    ]);
    expect(cavity.volumeMm3).toBeCloseTo(100 * 2 + (240 - 16) * 3 + 16, 3);
  });

  it('lets a channel cut through an island of its own feature', () => {
    const runner = read(
      soundPlate(
        rectangle('RUNNER 3', [-40, -30], 20, 20),
        rectangle('RUNNER 0', [-35, -25], 10, 10),
        line('RUNNER 2 W2', [-45, -20], [-15, -20]),
      ),
    ).features.RUNNER;
    const drawnByItself = 3 * (4 * 10 + 4 * PI);
    const outside = 2 * 10 * 2 + PI - 0;
    const wanted = drawnByItself + 300 * 3 + 2 * 10 * 2 + (outside - 2 * 10) * 2;
    expect(Math.abs((runner?.volumeMm3 ?? 0) - wanted)).toBeLessThan(0.5);
  });

  it('separates parts and gives each its own levels', () => {
    const { cavities } = read(
      plateWith(
        rectangle('CAVITY 3', [0, 10], 30, 30),
        rectangle('CAVITY 0', [5, 15], 20, 20),
        rectangle('CAVITY 1', [10, 20], 10, 10),
        rectangle('CAVITY 2', [-40, -30], 10, 5),
      ),
    );
    const volumes = cavities.map(({ areaMm2, volumeMm3 }) => [areaMm2, volumeMm3].map(Math.round));
    expect(volumes.sort(([a = 0], [b = 0]) => a - b)).toEqual([
      [50, 100],
      [100, 100],
      [500, 1500],
    ]);
    expect(cavities.map(({ widthMm }) => Math.round(widthMm)).sort((a, b) => a - b)).toEqual([10, 10, 30]);
  });

  it('lets the deeper feature win and counts its area once', () => {
    const { moulded, projected, features } = read(
      soundPlate(
        rectangle('RUNNER 3', [10, -20], 10, 10),
        rectangle('GATE 1', [15, -20], 10, 10),
        rectangle('CAVITY 5', [22, -20], 10, 10),
      ),
    );
    const alone = read(soundPlate());
    expect(projected.areaMm2 - alone.projected.areaMm2).toBeCloseTo(220, 3);
    expect(moulded.volumeMm3 - alone.moulded.volumeMm3).toBeCloseTo(100 * 3 + 20 + 100 * 5, 3);
    expect(features.GATE?.volumeMm3).toBeCloseTo(100, 6);
  });
});

describe('channels', () => {
  it('have round ends where they are open', () => {
    const gate = read(soundPlate(line('GATE 1 W2', [0, 10], [9, 10]))).features.GATE;
    expect(Math.abs((gate?.areaMm2 ?? 0) - (18 + PI))).toBeLessThan(0.01 * 2 * PI);
  });

  it('follow a bent line and a closed one', () => {
    const bent = read(
      soundPlate(
        lwpolyline(
          'GATE 1 W2',
          [
            [-30, 0],
            [-20, 0],
            [-20, 10],
          ],
          false,
        ),
      ),
    ).features.GATE;
    expect(Math.abs((bent?.areaMm2 ?? 0) - (20 * 2 - 1 + PI + PI / 4))).toBeLessThan(0.05);
    const ring = read(soundPlate(circle('RUNNER 3 W2', [-25, -15], 8))).features.RUNNER;
    const alone = read(soundPlate()).features.RUNNER;
    expect(Math.abs((ring?.areaMm2 ?? 0) - (alone?.areaMm2 ?? 0) - PI * (81 - 49))).toBeLessThan(1);
  });

  it('may be a cavity when they close', () => {
    const cavity = cavityOf([...loose('CAVITY 2 W1')]);
    expect(Math.abs(cavity.areaMm2 - (36 - 4 * 0.25 + PI / 4))).toBeLessThan(0.05);
  });

  it('carry water at the depth of their axis', () => {
    const { water } = read(
      soundPlate(
        lwpolyline(
          'WATER 14 W8',
          [
            [-45, 0],
            [-20, 0],
            [-20, 30],
          ],
          false,
        ),
      ),
    );
    expect(water).toMatchObject([
      {
        diameterMm: 8,
        depthMm: 14,
        path: [
          { x: -45, y: 0 },
          { x: -20, y: 0 },
          { x: -20, y: 30 },
        ],
      },
    ]);
  });
});

describe('the plate', () => {
  it('has openings cut right through', () => {
    const { plate } = read(soundPlate(circle('PLATE', [-30, -20], 5), rectangle('PLATE', [-45, 10], 10, 10)));
    expect(Math.abs(plate.areaMm2 - (8000 - 100 - 25 * PI))).toBeLessThan(0.3);
    expect(plate.openings).toHaveLength(2);
  });

  it('counts vents only where they lie on it', () => {
    const { features, ventInsidePlate } = read(
      soundPlate(
        lwpolyline(
          'VENT 0.02 W4',
          [
            [20, 30],
            [20, 60],
          ],
          false,
        ),
        line('VENT 0.03 W4', [80, 0], [90, 0]),
      ),
    );
    expect(Math.abs((features.VENT?.areaMm2 ?? 0) - (120 + 40 + 8 * PI))).toBeLessThan(0.3);
    expect(Math.abs((ventInsidePlate?.areaMm2 ?? 0) - (40 + 2 * PI))).toBeLessThan(0.1);
    expect(ventInsidePlate?.maxDepthMm).toBe(0.02);
  });

  it('has no vents that count when all lie outside', () => {
    const { features, ventInsidePlate } = read(soundPlate(line('VENT 0.03 W4', [80, 0], [90, 0])));
    expect(features.VENT).not.toBeNull();
    expect(ventInsidePlate).toBeNull();
  });

  it('takes the feed to the deepest runner that meets it', () => {
    const { feed } = read([
      rectangle('PLATE', [-50, -40], 100, 80),
      circle('CAVITY 2', [20, 0], 5),
      point('FEED', [0, 0]),
      line('RUNNER 2 W4', [0, 0], [9, 0]),
      line('RUNNER 2.5 W2', [1.7, -1], [9, -9]),
      line('RUNNER 4 W2', [0, 5], [0, 9]),
    ]);
    expect(feed).toEqual({
      at: { x: 0, y: 0 },
      drawnDiameterMm: null,
      diameterMm: 3.5,
      depthMm: 2.5,
      depthFromRunner: true,
    });
  });

  it('has the sink of each bolt, the innermost one', () => {
    const { sinks, bolts } = read(
      soundPlate(
        circle('BOLT', [-40, -30], 3.3),
        circle('BOLT', [-20, -30], 3.3),
        circle('BOLT', [0, -30], 3.3),
        circle('SINK 3', [-40, -30], 8),
        circle('SINK 7', [-40, -30], 5.5),
        rectangle('SINK 6', [-26, -36], 32, 12),
      ),
    );
    const shown = sinks.map(({ bolt, depthMm, diameterMm }) => [
      bolts[bolt]?.at.x,
      depthMm,
      Math.round(diameterMm * 100) / 100,
    ]);
    expect(shown).toEqual([
      [-40, 7, 11],
      [-20, 6, 12],
      [0, 6, 12],
    ]);
  });
});

describe('blocks', () => {
  const square = { name: 'SQUARE', entities: [rectangle('0', [1, 1], 4, 2)], base: [1, 1] as const };

  it('lay layer 0 on the layer of their insert, however deep', () => {
    const blocks = [
      square,
      { name: 'PAIR', entities: [insert('0', 'square', [0, 0]), insert('0', 'Square', [6, 0])] },
    ];
    const cavity = cavityOf([insert('CAVITY 2', 'PAIR', [10, 10])], { blocks });
    expect(cavity.volumeMm3).toBeCloseTo(32, 6);
    expect(cavity.region).toHaveLength(2);
  });

  it.each<[string, readonly Group[], readonly [number, number, number, number]]>([
    ['moved', [], [10, 20, 14, 22]],
    ['turned', [[50, 90]], [8, 20, 10, 24]],
    [
      'scaled',
      [
        [41, 2],
        [42, 3],
      ],
      [10, 20, 18, 26],
    ],
    ['mirrored', [[41, -1]], [6, 20, 10, 22]],
    [
      'mirrored and turned',
      [
        [41, -1],
        [50, 90],
      ],
      [8, 16, 10, 20],
    ],
    [
      'seen from behind',
      [
        [210, 0],
        [220, 0],
        [230, -1],
      ],
      [-14, 20, -10, 22],
    ],
  ])('can be %s', (_, groups, [minX, minY, maxX, maxY]) => {
    const { cavities } = read(plateWith(insert('CAVITY 2', 'SQUARE', [10, 20], ...groups)), {
      blocks: [square],
    });
    const xs = cavities[0]?.region[0]?.map(({ x }) => x) ?? [];
    const ys = cavities[0]?.region[0]?.map(({ y }) => y) ?? [];
    const corners = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
    expect(corners.map((value) => Math.round(value * 1e9) / 1e9)).toEqual([minX, minY, maxX, maxY]);
  });

  it('repeat in columns and rows, turned with the block', () => {
    const { cavities } = read(
      plateWith(insert('CAVITY 2', 'SQUARE', [10, 10], [50, 90], [70, 3], [71, 2], [44, 6], [45, 5])),
      { blocks: [square] },
    );
    const centres = cavities.map(({ centroid }) => [Math.round(centroid.x), Math.round(centroid.y)]);
    expect(centres.sort(([a = 0, b = 0], [c = 0, d = 0]) => a - c || b - d)).toEqual([
      [4, 12],
      [4, 18],
      [4, 24],
      [9, 12],
      [9, 18],
      [9, 24],
    ]);
  });

  it('make an ellipse of a circle when stretched, and keep the depth of its layer', () => {
    const blocks = [{ name: 'DISC', entities: [circle('CAVITY 2', [0, 0], 2)] }];
    const cavity = cavityOf([insert('0', 'DISC', [20, 20], [41, 3], [42, 2], [50, 30])], { blocks });
    expect(Math.abs(cavity.areaMm2 - 24 * PI)).toBeLessThan(0.01 * 32);
    expect(cavity.volumeMm3).toBeCloseTo(2 * cavity.areaMm2, 6);
  });

  it('show nothing on a frozen layer, and not their layer 0 on one that is off', () => {
    const blocks = [{ name: 'TWO', entities: [circle('0', [0, 0], 2), circle('CAVITY 3', [9, 0], 1)] }];
    const layers = [layerRecord('FROZEN', { frozen: true }), layerRecord('CAVITY 9', { off: true })];
    const { features, notices } = read(
      soundPlate(insert('FROZEN', 'TWO', [-30, 0]), insert('CAVITY 9', 'TWO', [-30, -20])),
      { blocks, layers },
    );
    expect(Math.abs((features.CAVITY?.areaMm2 ?? 0) - (200 + PI))).toBeLessThan(0.07);
    expect(notices).toEqual([
      { code: 'layer-frozen', layer: 'FROZEN', count: 1 },
      { code: 'layer-off', layer: 'CAVITY 9', count: 1 },
    ]);
  });

  it('mirror arcs and polylines drawn from behind, but not lines', () => {
    const behind: readonly Group[] = [
      [210, 0],
      [220, 0],
      [230, -1],
    ];
    const { cavities } = read(
      plateWith(
        arc('CAVITY 2', [-20, 10], 5, -90, 90, ...behind),
        line('CAVITY 2', [20, 5], [20, 15], ...behind),
        lwpolyline(
          'CAVITY 3',
          [
            [-20, -20],
            [-30, -20],
            [-30, -10],
          ],
          true,
          ...behind,
        ),
      ),
    );
    const centres = cavities.map(({ centroid }) => [centroid.x, centroid.y]);
    expect(centres[0]?.[0]).toBeCloseTo(20 - (4 * 5) / (3 * PI), 2);
    expect(centres[1]?.[0]).toBeCloseTo(80 / 3, 6);
  });
});

describe('files', () => {
  it('are read with any line ends, comments and sections', () => {
    const drawing = dxf({ entities: soundPlate() });
    const area = measureDxf(drawing, { sprueDiameterMm: 3.5 }).projected.areaMm2;
    const odd = [
      drawing.replaceAll('\n', '\r\n'),
      drawing.replaceAll('\n', '\r'),
      `\ufeff${drawing}`,
      `999\nmade by hand\n${drawing}`,
      drawing.replaceAll(/^(\d+)$/gm, '  $1 '),
      `${drawing}\u001a`,
      drawing.replace('0\nEOF', '0\nSECTION\n2\nOBJECTS\n0\nDICTIONARY\n0\nENDSEC\n0\nEOF'),
    ];
    for (const variant of odd) {
      expect(measureDxf(variant, { sprueDiameterMm: 3.5 }).projected.areaMm2).toBe(area);
      expect(measureDxf(new TextEncoder().encode(variant), { sprueDiameterMm: 3.5 }).projected.areaMm2).toBe(
        area,
      );
    }
  });

  it.each([
    ['AC1015', 'ANSI_1252', [0xc4], 'Ä'],
    ['AC1015', 'ANSI_1251', [0xc4], 'Д'],
    ['AC1018', 'ANSI_932', [0x83, 0x41], 'ア'],
    ['AC1009', undefined, [0xe9], 'é'],
    ['AC1032', 'ANSI_1252', [0xc3, 0x84], 'Ä'],
  ])('before R2007 are in their code page: %s %s', (version, codePage, bytes, letter) => {
    const source = dxf({
      version,
      ...(codePage ? { codePage } : {}),
      entities: soundPlate(note('TEXT', 'NOTE?')),
    });
    const file = [...new TextEncoder().encode(source)].flatMap((byte, i, all) =>
      byte === 0x3f && all[i - 1] === 0x45 ? bytes : [byte],
    );
    const { notices } = measureDxf(Uint8Array.from(file), { sprueDiameterMm: 3.5 });
    expect(notices).toEqual([{ code: 'layer-not-a-feature', layer: `NOTE${letter}`, count: 1 }]);
  });

  it('may write letters of layer names as their number', () => {
    expect(read(soundPlate(note('TEXT', 'R\\U+00FCtti'))).notices[0]?.layer).toBe('Rütti');
  });

  it('say what was left out', () => {
    const drawing = read(
      soundPlate(
        ...['TEXT', 'MTEXT', 'DIMENSION', 'LEADER', 'HATCH'].map((type) => note(type, 'CAVITY 2')),
        [
          [0, 'CIRCLE'],
          [67, 1],
          [8, 'CAVITY 2'],
          [10, 0],
          [20, 0],
          [40, 30],
        ],
        line('GATE 1 W2', [0, 0], [1, 0]),
        circle('Centre marks', [0, 0], 1),
      ),
      { insunits: null, layers: [layerRecord('gate 1 w2', { off: true })] },
    );
    expect(drawing.features.CAVITY?.areaMm2).toBeCloseTo(200, 6);
    expect(
      drawing.notices.map(({ code, layer, entity }) =>
        [code, layer ?? entity, entity].filter(Boolean).join(' '),
      ),
    ).toEqual([
      'units-assumed',
      'notes-left-out CAVITY 2 TEXT',
      'notes-left-out CAVITY 2 MTEXT',
      'notes-left-out CAVITY 2 DIMENSION',
      'notes-left-out CAVITY 2 LEADER',
      'notes-left-out CAVITY 2 HATCH',
      'paper-space-left-out',
      'layer-off GATE 1 W2',
      'layer-not-a-feature Centre marks',
    ]);
  });

  it.each([
    [1, 25.4],
    [4, 1],
    [5, 10],
    [6, 1000],
  ])('in unit %d are %d mm to the unit, but depths stay', (insunits, mmPerUnit) => {
    const scale = 1 / mmPerUnit;
    const drawing = read(
      [
        rectangle('PLATE', [0, 0], 100 * scale, 80 * scale),
        circle('FEED 3', [50 * scale, 40 * scale], 2 * scale),
        circle('CAVITY 2', [20 * scale, 40 * scale], 5 * scale),
        line('RUNNER 3 W4', [50 * scale, 40 * scale], [30 * scale, 40 * scale]),
      ],
      { insunits },
    );
    expect(drawing.units).toEqual({ insunits, mmPerUnit, assumed: false });
    expect(drawing.plate.areaMm2).toBeCloseTo(8000, 6);
    expect(drawing.features.CAVITY?.maxDepthMm).toBe(2);
    expect(Math.abs((drawing.features.RUNNER?.areaMm2 ?? 0) - (80 + 4 * PI))).toBeLessThan(0.1);
    expect(drawing.feed.diameterMm).toBeCloseTo(4, 9);
  });

  it('may be nothing but entities', () => {
    const bare = text([[0, 'SECTION'], [2, 'ENTITIES'], ...soundPlate().flat(), [0, 'ENDSEC'], [0, 'EOF']]);
    expect(measureDxf(bare, { sprueDiameterMm: 3.5 }).notices).toEqual([{ code: 'units-assumed', count: 1 }]);
  });
});

/** A rectangle of 10 x 8 as four lines, mixed up. */
function loose(layer: string, [x, y]: readonly [number, number] = [15, 0]): Entity[] {
  return [
    line(layer, [x, y], [x + 10, y]),
    line(layer, [x, y + 8], [x, y]),
    line(layer, [x + 10, y + 8], [x + 10, y]),
    line(layer, [x + 10, y + 8], [x, y + 8]),
  ];
}

function spline(
  layer: string,
  degree: number,
  knots: readonly number[],
  controls: readonly (readonly [number, number])[],
  weights: readonly number[] = [],
): Entity {
  return [
    [0, 'SPLINE'],
    [8, layer],
    [70, 8],
    [71, degree],
    ...knots.map((knot): Group => [40, knot]),
    ...weights.map((weight): Group => [41, weight]),
    ...controls.flatMap(([x, y]): Group[] => [
      [10, x],
      [20, y],
    ]),
  ];
}

/** The circle as four rational quadratic quarters, weights 1 and cos 45 degrees (a textbook NURBS). */
function nurbsCircle(layer: string, [x, y]: readonly [number, number], radius: number): Entity {
  const around = [
    [1, 0],
    [1, 1],
    [0, 1],
    [-1, 1],
    [-1, 0],
    [-1, -1],
    [0, -1],
    [1, -1],
    [1, 0],
  ] as const;
  const controls = around.map(([u, v]) => [x + u * radius, y + v * radius] as const);
  const weights = around.map((_, i) => (i % 2 === 0 ? 1 : Math.SQRT1_2));
  return spline(layer, 2, [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4], controls, weights);
}
