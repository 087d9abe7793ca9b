import type { Finding, Verdict } from '../engineering/finding.js';
import { numberText } from '../words/en/numbers.js';
import { curvePicture } from './curve.js';
import { dayTimeLine } from './day-time-line.js';
import { daylightSection } from './daylight-section.js';
import { deepestMm, depthKey, depthSwatch } from './depth-steps.js';
import { EXAMPLE_BOLSTER, EXAMPLE_PLATE_FACTS, examplePlate, exampleRegistration } from './example-plate.js';
import { gauge } from './gauge.js';
import { partRightWayRound } from './part-right-way-round.js';
import { phaseSwatch } from './phase-patterns.js';
import { plateOnBolster } from './plate-on-bolster.js';
import { SafeHtml } from './safe-html.js';
import { stackFromTheSide } from './stack-from-the-side.js';
import { box, svg } from './svg.js';
import { PHASE_KINDS, type TimeDay } from './time-line.js';
import { weekTimeLine } from './week-time-line.js';

const TONES = [
  'bench',
  'sheet',
  'inset',
  'ink',
  'soft',
  'rule',
  'fine',
  'faint',
  'key',
  'key-wash',
  'caution',
  'stop',
];
const length = (mm: number) => numberText(mm);

/** Everything `templates/parts/parts.hbs` shows besides the sheet itself: each part once, with data a reader can check. */
export function partsExample() {
  return {
    verdicts: (['clear', 'caution', 'stop', 'unknown'] as const satisfies readonly Verdict[]).map(
      (verdict) => ({
        verdict,
      }),
    ),
    stamp: { verdict: 'caution', count: '2 cautions, 22 clear' },
    summary: {
      title: 'Two things to put right',
      items: [
        { text: 'Thickness: give it in mm, for instance 12.5', field: 'parts-thickness' },
        {
          text: 'Head sunk: deeper than the plate is thick',
          fix: 'Sink the heads less, or take thicker stock.',
        },
      ],
    },
    cells: [
      {
        id: 'parts-thickness',
        name: 'thicknessMm',
        label: 'Thickness',
        hint: 'between 2 and 60 mm',
        error: 'Give it in mm, for instance 12.5',
        value: '12,5 inch',
        unit: 'mm',
      },
      {
        id: 'parts-alloy',
        name: 'alloy',
        label: 'Alloy',
        options: [
          { value: 'EN AW-6082-T6', text: 'EN AW-6082-T6', selected: true },
          { value: 'cast-plate', text: 'cast plate' },
        ],
      },
      {
        id: 'parts-note',
        name: 'note',
        label: 'Note to the steward',
        rows: 3,
        value: 'burr at the third gate',
        size: 'full',
      },
    ],
    factCells: [
      { label: 'Left in it', value: '6,220', unit: 'g', figure: true },
      { label: 'Reserved', value: '960 g', note: 'you, Tue 1 Dec' },
      { label: 'May be drawn', value: 'clear', verdict: 'clear' },
    ],
    noticeRows: [
      {
        verdict: 'stop',
        strong: 'Acetal stays out of this barrel.',
        text: 'PVC was in it last. The two together give toxic gas; strip and clean, signed by two stewards.',
      },
      {
        verdict: 'caution',
        text: 'Your sign-off for plate change ends on Mon 30 Nov.',
        link: { href: '/account', text: 'Ask for a witness' },
      },
      { word: 'kept', text: 'Board counter is a plate of yours now, revision 1.' },
    ],
    gauges: GAUGES.map(({ words, margin, ...finding }) => ({
      words,
      margin,
      verdict: finding.verdict,
      gauge: gauge({ ...finding, margin: finding.marginValue }),
    })),
    findings: [stopFinding(), clearFinding(), warmingFinding()],
    choices: [
      { id: 'parts-behind', value: 'behind', text: 'At least 2 mm, behind the insert plate', checked: true },
      {
        id: 'parts-fixed',
        value: 'fixed',
        text: 'At least 2 mm, on the fixed half',
        more: 'lengthens the sprue',
      },
    ],
    ticks: [
      { id: 'parts-guards', value: 'yes', text: 'guards and interlocks stop the press', checked: true },
      { id: 'parts-emergency', value: 'yes', text: 'emergency stop works' },
    ],
    slots: [
      {
        id: 'parts-slot-a',
        value: 'a',
        text: 'Thu 26, 14:00 to 17:45',
        more: 'dry from 10:00',
        balloon: 'A',
        checked: true,
      },
      {
        id: 'parts-slot-b',
        value: 'b',
        text: 'Fri 27, 10:30 to 13:50',
        more: 'warm-up and purge in skipped',
        balloon: 'B',
      },
    ],
    drop: {
      id: 'parts-file',
      name: 'dxf',
      label: 'Drawing, DXF',
      read: {
        fileName: 'two-buttons.dxf',
        how: 'read in mm',
        found: '1 outline 110.0 × 70.0, 2 cavities, 1 runner, 2 vents, 4 bolt holes.',
        notices: ['The layer NOTES was left out.'],
      },
    },
    waiting: [
      {
        number: 1,
        name: 'Open the press for Bram, 18:20',
        more: 'tick the pre-use check with him',
        when: 'until 18:20 today',
        href: '/week',
        button: 'Open the press',
        primary: true,
      },
      {
        number: 2,
        name: 'Booking needs attention: Tue 1 Dec',
        more: 'a sign-off ends on Mon 30 Nov',
        when: 'until Mon 30 Nov',
        verdict: 'caution',
        href: '/week',
        button: 'See the booking',
      },
    ],
    phases: PHASE_KINDS.map((kind) => ({ swatch: phaseSwatch(kind), text: kind.replaceAll('-', ' ') })),
    depths: [1, 2, 3, 4, 5, 6].map((step) => ({ swatch: depthSwatch(step), text: `step ${step}` })),
    tones: TONES.map((tone) => ({
      swatch: svg(
        { frame: { x: 0, y: 0, width: 28, height: 16 }, className: 'ps-key__swatch', label: null },
        box(`ps-swatch ps-swatch-${tone}`, 0.5, 0.5, 27.5, 15.5),
      ),
      text: tone.replace('-', ' '),
    })),
    ...plates(),
    week: weekTimeLine({
      ...WEEK,
      prefix: 'week',
      label: 'An example week; the same stands in the table',
      days: [today(), CLOSED_DAY],
    }),
    day: dayTimeLine({
      ...WEEK,
      prefix: 'day',
      label: 'An example day; the same stands in the table',
      day: today(),
    }),
  };
}

function plates() {
  const fits = examplePlate();
  const registration = exampleRegistration();
  const words = {
    face: 'bolster face 200 × 160',
    noHole: 'no hole here',
    length,
    least: (mm: number) => `${length(mm)} min`,
  };
  const cavity = fits.cavities[0];
  const shared = { bolster: EXAMPLE_BOLSTER, screw: EXAMPLE_PLATE_FACTS.screw, words };
  return {
    plan: plateOnBolster({
      ...shared,
      drawing: fits,
      registration,
      balloons: [{ words: '2', tone: 'caution', at: { x: 48, y: 0 } }],
      label: 'An example plate of two buttons on the bolster',
    }),
    wrongPlan: plateOnBolster({
      ...shared,
      drawing: examplePlate(3),
      registration: exampleRegistration(3),
      balloons: [{ words: '1', tone: 'stop', at: { x: 43, y: -20 } }],
      label: 'The example plate with one bolt hole 3 mm too far right',
    }),
    stack: stackFromTheSide({
      drawing: fits,
      registration,
      bolster: EXAMPLE_BOLSTER,
      plate: EXAMPLE_PLATE_FACTS,
      balloon: { words: '1', tone: 'stop' },
      label: 'The example stack from the side: 10 mm, with a gap of 2 mm to the least daylight',
      words,
    }),
    depthKeyRows: depthKey(fits).map(({ depthMm, features, swatch }) => ({
      swatch,
      value: depthMm < 0.1 ? numberText(depthMm, 2) : length(depthMm),
      text: features.join(', ').toLowerCase(),
    })),
    part: cavity
      ? partRightWayRound({
          cavity,
          deepestMm: deepestMm(fits),
          label: 'A button from the side that is moulded',
          words,
        })
      : new SafeHtml(''),
  };
}

interface GaugeExample extends Pick<Finding, 'verdict' | 'figure' | 'limit'> {
  readonly words: string;
  readonly margin: string;
  readonly marginValue: number;
}

const GAUGES: readonly GaugeExample[] = [
  {
    words: 'at least 6.0 mm',
    margin: '2.5 mm to spare',
    verdict: 'clear',
    figure: 8.5,
    limit: 6,
    marginValue: 2.5,
  },
  {
    words: 'at most 500 kN',
    margin: '287 kN to spare',
    verdict: 'clear',
    figure: 213,
    limit: 500,
    marginValue: 287,
  },
  {
    words: 'close to the limit',
    margin: '0.5 mm to spare',
    verdict: 'clear',
    figure: 6.5,
    limit: 6,
    marginValue: 0.5,
  },
  {
    words: 'further than drawn: broken line',
    margin: '17.5 mm to spare',
    verdict: 'clear',
    figure: 22,
    limit: 4.5,
    marginValue: 17.5,
  },
  {
    words: 'between 0.013 and 0.030 mm',
    margin: '0.007 mm to spare',
    verdict: 'clear',
    figure: 0.02,
    limit: { min: 0.013, max: 0.03 },
    marginValue: 0.007,
  },
  {
    words: 'at least 12.0 mm',
    margin: '5.5 mm short',
    verdict: 'stop',
    figure: 6.5,
    limit: 12,
    marginValue: -5.5,
  },
  {
    words: 'at most 3.0 mm',
    margin: '1.2 mm too long',
    verdict: 'caution',
    figure: 4.2,
    limit: 3,
    marginValue: -1.2,
  },
  {
    words: 'at least 12.0 mm, nearly',
    margin: '0.4 mm short',
    verdict: 'stop',
    figure: 11.6,
    limit: 12,
    marginValue: -0.4,
  },
];

function stopFinding() {
  return {
    verdict: 'stop',
    name: 'Daylight',
    balloon: '1',
    small: '10.0 mm, at least 12.0',
    margin: '2.0 mm short',
    gauge: gauge({ verdict: 'stop', figure: 10, limit: 12, margin: -2 }, 200),
    framed: true,
    open: true,
    sentence:
      'The bolster faces stop 2.0 mm before they reach the plate. It is never clamped, and melt sprays out of the gap.',
    facts: [
      { label: 'Figure', value: 'stack 10.0 mm: plate alone' },
      { label: 'Limit', value: 'at least 12.0 mm' },
      { label: 'Margin', value: '2.0 mm short', strong: true },
      { label: 'Source', value: "the machine's own limit" },
    ],
    section: daylightSection({
      packerThicknessMm: 0,
      plateThicknessMm: 10,
      facingThicknessMm: 0,
      minimumDaylightMm: 12,
      label: 'Section: the halves stop at 12.0 mm, the plate is 10.0 mm, a gap of 2.0 mm is left',
      words: { least: '12.0 min', gap: (mm) => `${length(mm)} gap`, plate: 'plate', length },
    }),
    cures: [
      {
        amount: '+ 2.0 mm',
        what: 'Packer behind the insert plate',
        also: 'The sprue is left alone.',
        tryWith: 'packerThicknessMm=2',
      },
      { amount: '12.0 mm', what: 'Plate from 12 mm stock', tryWith: 'thicknessMm=12' },
    ],
    form: 'parts-form',
  };
}

function clearFinding() {
  return {
    verdict: 'clear',
    name: 'Face',
    small: 'nearest edge 45.0 mm inside the face',
    margin: '45.0 mm to spare',
    gauge: gauge({ verdict: 'clear', figure: 45, limit: 100, margin: 45 }),
    sentence: 'The plate lies inside the bolster’s face.',
    facts: [{ label: 'Figure', value: '45.0 mm' }],
    cures: [],
  };
}

/** A body that takes up heat evenly and loses it to a room of 20 °C: settles at 20 + rise, by half an hour to a third. */
function warmed(riseK: number) {
  return Array.from(
    { length: 25 },
    (_, i) => [i * 7.5, 20 + riseK * (1 - 0.5 ** ((i * 7.5) / 51.3))] as const,
  );
}

function warmingFinding() {
  return {
    verdict: 'clear',
    name: 'Plate warming',
    small: '52 min to the first limit',
    sentence:
      'Every shot leaves 4.0 kJ. The plate passes 65 °C after 91 min with no chiller, and never with it.',
    facts: [{ label: 'Figure', value: '52 min' }],
    curve: curvePicture({
      label:
        'The plate’s temperature over three hours: without a chiller it passes 52 °C after 52 min and 65 °C after 91 min; with one it stays below 30 °C',
      curves: [
        { points: warmed(63.5), name: 'without a chiller' },
        { points: warmed(9), name: 'with the chiller', dashed: true },
      ],
      limits: [
        { y: 65, name: 'burns at a touch from 65 °C' },
        { y: 52, name: 'comes off sound up to 52 °C' },
      ],
      asked: [
        { x: 51.9, y: 52, words: '52 min to 52 °C' },
        { x: 91.3, y: 65, words: '91 min to 65 °C' },
      ],
      x: { to: 180, ticks: [0, 60, 120, 180].map((at) => ({ at, text: `${at / 60} h` })) },
      y: { from: 20, to: 80, unit: '°C' },
    }),
    working: [
      {
        text: 'Heat a shot leaves: mass × what a gram gives up = 8 g × 500 J/g = 4000 J',
        from: 'handbook value, from memory',
      },
      { text: 'One shot every 30 s: 4000 J / 30 s = 133.3 W', from: 'a shot in every cycle; worked out' },
    ],
    cures: [],
  };
}

const WEEK = { fromMinute: 480, toMinute: 1320 };

const CLOSED_DAY: TimeDay = { name: 'Sun 29 Nov', open: null, closedWords: 'closed', lanes: [] };

function today(): TimeDay {
  const phases = [
    { kind: 'warm-up', minutes: 25, label: 'warm up' },
    { kind: 'mount', minutes: 15, label: 'mount' },
    { kind: 'purge', minutes: 15, label: 'purge in' },
    { kind: 'settle', minutes: 10, label: 'settle' },
    { kind: 'run', minutes: 120 },
    { kind: 'purge', minutes: 20, label: 'purge out' },
    { kind: 'dismount-and-clean', minutes: 20, label: 'clean' },
  ] as const;
  return {
    name: 'Thu 26 Nov',
    note: 'today',
    open: [{ startMinute: 600, endMinute: 1260 }],
    closedWords: 'closed',
    nowMinute: 855,
    lanes: [
      {
        lane: 'press',
        heightPx: 34,
        spans: [
          { startMinute: 600, endMinute: 760, kind: 'other', label: 'Ishaan' },
          { startMinute: 760, endMinute: 1110, kind: 'free', label: '' },
          {
            startMinute: 840,
            endMinute: 1065,
            kind: 'picked',
            label: '120 shots',
            phases,
            dimension: { startMinute: 760, endMinute: 1110, words: 'free 5 h 50, this needs 3 h 45' },
          },
          { startMinute: 1110, endMinute: 1240, kind: 'other', label: 'Tamsin <3' },
        ],
      },
      {
        lane: 'oven',
        heightPx: 16,
        spans: [
          {
            startMinute: 600,
            endMinute: 840,
            kind: 'own',
            label: '',
            phases: [{ kind: 'dry', minutes: 240 }],
          },
        ],
      },
      {
        lane: 'granulator',
        shortName: 'gran.',
        heightPx: 14,
        spans: [{ startMinute: 720, endMinute: 840, kind: 'out-of-service', label: 'inspection' }],
      },
    ],
  };
}
