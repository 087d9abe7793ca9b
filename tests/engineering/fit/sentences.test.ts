import { describe, expect, it } from 'vitest';
import type { DrawnWay, MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import type { Finding } from '../../../server/engineering/finding.js';
import { boltPatternWords } from '../../../server/words/en/checks/bolt-pattern.js';
import type { CheckWords } from '../../../server/words/en/checks/check-words.js';
import { daylightWords } from '../../../server/words/en/checks/daylight.js';
import { faceWords } from '../../../server/words/en/checks/face.js';
import { feedOnSprueWords } from '../../../server/words/en/checks/feed-on-sprue.js';
import { openingStrokeWords } from '../../../server/words/en/checks/opening-stroke.js';
import { screwEngagementWords } from '../../../server/words/en/checks/screw-engagement.js';
import { screwHeadsWords } from '../../../server/words/en/checks/screw-heads.js';
import { wallsWords } from '../../../server/words/en/checks/walls.js';
import { demoBolster, demoPress, demoRules, keyedBolster, samplePlate } from '../../support/gullwing.js';
import { fitFindings } from './check-plate-fit.js';
import { boltsAt, features, madeDrawing, pocket, rectangle } from './made-drawing.js';
import { expectedSamples, sampleDrawing } from './samples.js';

const WORDS: { readonly [check: string]: CheckWords } = {
  face: faceWords,
  'bolt-pattern': boltPatternWords,
  'feed-on-sprue': feedOnSprueWords,
  'screw-engagement': screwEngagementWords,
  'screw-heads': screwHeadsWords,
  walls: wallsWords,
  daylight: daylightWords,
  'opening-stroke': openingStrokeWords,
};

const screw = (change: Partial<typeof samplePlate.screw>) => ({
  ...samplePlate,
  screw: { ...samplePlate.screw, ...change },
});
const corners = boltsAt(6.6, [-80, -60], [80, -60], [80, 60], [-80, 60]);
const made = (bolts = corners, more = {}) =>
  madeDrawing({ bolts, over: { features: features({ CAVITY: pocket(3, rectangle(40, 30)) }) }, ...more });
const deep = (depthMm: number, width = 20) =>
  madeDrawing({
    bolts: corners,
    over: { features: features({ CAVITY: pocket(depthMm, rectangle(width, 20)) }) },
  });
const water = (depthMm: number) => ({
  ...made(),
  water: [
    {
      path: [
        { x: -60, y: 0 },
        { x: 60, y: 0 },
      ],
      diameterMm: 8,
      depthMm,
      region: [rectangle(128, 8)],
    },
  ],
});

/** A cavity 20 mm across that stands alone, 30 mm right of the feed. */
function unfed() {
  const region = [rectangle(20, 20, { x: 40, y: 0 })];
  const plate = made();
  const cavity = {
    region,
    levels: [{ depthMm: 3, region, areaMm2: 400 }],
    areaMm2: 400,
    volumeMm3: 1200,
    maxDepthMm: 3,
    centroid: { x: 40, y: 0 },
    widthMm: 20,
    heightMm: 20,
  };
  return {
    ...plate,
    projected: { ...plate.projected, region: [rectangle(4, 4), ...region] },
    cavities: [cavity],
  };
}

function way(feature: 'RUNNER' | 'GATE', ...path: readonly (readonly [number, number])[]): DrawnWay {
  return { kind: 'channel', feature, depthMm: 2, widthMm: 3, path: path.map(([x, y]) => ({ x, y })) };
}

const RUNNER_IN = way('RUNNER', [0, 0], [36, 0]);

/** The cavity of `unfed`, with ways drawn to it. */
function fedBy(...ways: readonly DrawnWay[]): MeasuredDrawing {
  return { ...unfed(), ways };
}

/** Every plate that goes wrong in its own way. */
function allFindings(): readonly Finding[] {
  const samples = Object.keys(expectedSamples()).flatMap((file) => [
    ...fitFindings(sampleDrawing(file)),
    ...fitFindings(sampleDrawing(file), { bolster: keyedBolster }),
  ]);
  const plates = [
    { ...samplePlate, thicknessMm: 10 },
    { ...samplePlate, thicknessMm: 12.1 },
    { ...samplePlate, packerThicknessMm: 50, facingThicknessMm: 10 },
    { ...samplePlate, packerThicknessMm: 20, partHeightMm: 60 },
    { ...samplePlate, partHeightMm: 48.2 },
    { ...samplePlate, partHeightMm: 90 },
    { ...samplePlate, alloy: 'cast-plate' as const },
    ...[8, 12, 23, 30].map((lengthMm) => screw({ lengthMm })),
    ...[null, 5, 14, 15.9, 16].map((headSinkDepthMm) => screw({ headSinkDepthMm })),
    ...[9, 10.1].map((headSinkDiameterMm) => screw({ headSinkDiameterMm })),
    screw({ size: 'M8' }),
  ].flatMap((plate) => fitFindings(made(), { plate }));
  const few = {
    ...demoBolster,
    holes: demoBolster.holes.filter(({ at }) => Math.abs(at.x) + Math.abs(at.y) === 140),
  };
  const shallow = { ...demoBolster, holes: demoBolster.holes.map((hole) => ({ ...hole, depthMm: 4 })) };
  const narrow = { ...demoPress, clamp: { ...demoPress.clamp, tieBarsWidthMm: 150 } };
  return [
    ...samples,
    ...plates,
    ...fitFindings(made([])),
    ...fitFindings(made(corners.slice(0, 1))),
    ...fitFindings(made(boltsAt(6.6, [-80, -60], [-80, 60]))),
    ...fitFindings({ ...made(boltsAt(6.6, [-80, -60], [-80, 60])), dowels: boltsAt(6, [60, 0]) }),
    ...fitFindings(made(boltsAt(6, [-80, -60], [80, 60]))),
    ...fitFindings(made(boltsAt(9, [-80, -60], [80, 60]))),
    ...fitFindings(made(boltsAt(11, [-80, -60], [80, 60]))),
    ...fitFindings(made(boltsAt(6.6, [-80, -60], [80, 60], [3, 3], [0, -61]))),
    ...fitFindings(made([...boltsAt(6.6, [-80.5, -60.3]), ...corners.slice(1)])),
    ...fitFindings(made([...corners, ...boltsAt(6.6, [80.1, 60])]), { bolster: few }),
    ...fitFindings(made(), { bolster: shallow, rules: demoRules }),
    ...fitFindings(made(), { press: narrow }),
    ...fitFindings(made(), { bolster: { ...demoBolster, faceMaterial: 'EN AW-6082-T6' } }),
    ...fitFindings(made(corners, { feed: { drawnDiameterMm: 3 } })),
    ...fitFindings(made(corners, { feed: { at: { x: 0.6, y: 0 } } })),
    ...[166, 170].flatMap((width) => fitFindings(made(corners, { outline: rectangle(width, width - 40) }))),
    ...fitFindings(unfed()),
    ...fitFindings(fedBy(RUNNER_IN)),
    ...fitFindings(fedBy(RUNNER_IN, way('RUNNER', [0, 40], [12, 40]))),
    ...fitFindings(fedBy(RUNNER_IN, way('GATE', [12, 0], [12, 9]))),
    ...fitFindings(deep(16)),
    ...fitFindings(deep(15.9)),
    ...fitFindings(deep(14)),
    ...fitFindings(deep(3, 181)),
    ...[4, 6, 10, 14].flatMap((depthMm) => fitFindings(water(depthMm))),
  ];
}

describe('the sentences of the fit checks', () => {
  const findings = allFindings();

  it('has one for every situation and every cure that the checks give', () => {
    for (const finding of findings) {
      const words = WORDS[finding.check];
      expect(words?.summary[finding.situation], `${finding.check} ${finding.situation}`).toBeTypeOf(
        'function',
      );
      for (const cure of finding.cures)
        expect(words?.cures[cure.code], `${finding.check} ${cure.code}`).toBeTypeOf('function');
    }
  });

  it('has none that no plate here brings about', () => {
    for (const [check, words] of Object.entries(WORDS)) {
      const seen = new Set(
        findings.filter((finding) => finding.check === check).map((finding) => finding.situation),
      );
      expect([...seen].sort(), check).toEqual(Object.keys(words.summary).sort());
    }
  });

  it('fills every sentence with figures, in letters the page’s typeface has', () => {
    for (const finding of findings) {
      for (const text of sentencesOf(finding)) {
        expect(text).not.toMatch(/undefined|NaN|Infinity|null|\[object/);
        expect(text).not.toMatch(/[\u2190-\u21ff\u2264\u2265]/);
        expect(text).not.toMatch(/(^|\s)-\d/);
        expect(text).not.toMatch(/ {2}|\s[.,;:]/);
      }
    }
  });

  it('gives the figure and the limit in the line, and a full sentence in the summary', () => {
    const thin = fitFindings(made(), { plate: { ...samplePlate, thicknessMm: 10 } });
    const daylight = thin.find((finding) => finding.check === 'daylight');
    if (daylight === undefined) throw new Error('no daylight finding');
    expect(daylightWords.line(daylight)).toBe('10.0 mm, at least 12.0 mm');
    const [packer] = daylight.cures;
    if (packer === undefined) throw new Error('no cure');
    expect(daylightWords.cures['add-packer'](packer).what).toBe('Packer behind the insert plate');
    for (const finding of findings) {
      const summary = WORDS[finding.check]?.summary[finding.situation]?.(finding) ?? '';
      expect(summary).toMatch(/^[A-Z0-9].*\.$/);
    }
  });
});

function sentencesOf(finding: Finding): readonly string[] {
  const words = WORDS[finding.check];
  if (words === undefined) throw new Error(`no words for ${finding.check}`);
  const advice = words.advice?.[finding.situation]?.(finding) ?? null;
  const cures = finding.cures.map((cure) => words.cures[cure.code]?.(cure));
  return [
    words.line(finding),
    words.summary[finding.situation]?.(finding) ?? '',
    ...(advice === null ? [] : [advice]),
    ...cures.flatMap((cure) =>
      cure === undefined ? [] : [cure.what, ...(cure.also === null ? [] : [cure.also])],
    ),
  ];
}
