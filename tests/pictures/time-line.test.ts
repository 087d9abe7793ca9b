import { describe, expect, it } from 'vitest';
import { dayTimeLine } from '../../server/pictures/day-time-line.js';
import { closedStretches, type TimeDay, type TimeSpan } from '../../server/pictures/time-line.js';
import { weekTimeLine } from '../../server/pictures/week-time-line.js';

const HOURS = { fromMinute: 480, toMinute: 1320 };

function dayWith(spans: readonly TimeSpan[], change: Partial<TimeDay> = {}): TimeDay {
  return {
    name: 'Thu 26 Nov',
    open: [{ startMinute: 600, endMinute: 1260 }],
    closedWords: 'closed',
    lanes: [{ lane: 'press', heightPx: 34, spans }],
    ...change,
  };
}

function week(days: readonly TimeDay[]): string {
  return weekTimeLine({ ...HOURS, prefix: 'w', label: 'Week', days }).markup;
}

/** From and width of boxes of a class. */
function boxes(markup: string, className: string): readonly (readonly [number, number])[] {
  const pattern = new RegExp(`<rect class="${className}" x="([^"]+)" y="[^"]+" width="([^"]+)"`, 'g');
  return [...markup.matchAll(pattern)].map(([, x, width]) => [Number(x), Number(width)]);
}

describe('the stretches a day is closed', () => {
  it.each([
    [
      'one opening',
      [{ startMinute: 600, endMinute: 1260 }],
      [
        [480, 600],
        [1260, 1320],
      ],
    ],
    [
      'two openings',
      [
        { startMinute: 480, endMinute: 720 },
        { startMinute: 780, endMinute: 1320 },
      ],
      [[720, 780]],
    ],
    ['open beyond what is drawn', [{ startMinute: 0, endMinute: 1440 }], []],
    ['closed', null, [[480, 1320]]],
  ])('%s', (_name, open, stretches) => {
    expect(closedStretches(dayWith([], { open }), 480, 1320)).toEqual(stretches);
  });
});

describe('a week', () => {
  const other: TimeSpan = { startMinute: 600, endMinute: 760, kind: 'other', label: 'Ishaan & <Co>' };

  it('puts a span where its minutes are, on one scale', () => {
    const [[x = 0, width = 0] = []] = boxes(week([dayWith([other])]), 'ps-span-other');
    const [[fullX = 0, fullWidth = 0] = []] = boxes(
      week([dayWith([{ ...other, startMinute: 480, endMinute: 1320 }])]),
      'ps-span-other',
    );
    expect(width / fullWidth).toBeCloseTo(160 / 840, 4);
    expect((x - fullX) / fullWidth).toBeCloseTo(120 / 840, 4);
  });

  it('cuts a span that goes on beyond what is drawn, and leaves out one that is elsewhere', () => {
    const early = { ...other, startMinute: -60, endMinute: 600 };
    const elsewhere = { ...other, startMinute: 0, endMinute: 480 };
    expect(boxes(week([dayWith([early])]), 'ps-span-other')).toHaveLength(1);
    expect(boxes(week([dayWith([elsewhere])]), 'ps-span-other')).toHaveLength(0);
  });

  it('escapes names, and leaves out those that do not fit', () => {
    expect(week([dayWith([other])])).toContain('>Ishaan &amp; &lt;Co&gt;</text>');
    expect(week([dayWith([{ ...other, endMinute: 620 }])])).not.toContain('Ishaan');
  });

  it('draws phases one after the other over the whole of an own span', () => {
    const own: TimeSpan = {
      startMinute: 600,
      endMinute: 720,
      kind: 'own',
      label: 'You',
      phases: [
        { kind: 'warm-up', minutes: 30 },
        { kind: 'run', minutes: 60 },
        { kind: 'purge', minutes: 30 },
      ],
    };
    const markup = week([dayWith([own])]);
    const [[x = 0, width = 0] = []] = boxes(markup, 'ps-span-own');
    const [[runX = 0, runWidth = 0] = []] = boxes(markup, 'ps-phase-run');
    expect(runX).toBeCloseTo(x + width / 4, 1);
    expect(runWidth).toBeCloseTo(width / 2, 1);
    expect(markup).toContain('fill="url(#w-purge)"');
    expect(markup).toContain('<pattern id="w-purge"');
  });

  it('is a low band that says so on a closed day', () => {
    const closed = week([dayWith([other], { open: null, closedWords: 'closed for <stocktake>' })]);
    expect(closed).toContain('closed for &lt;stocktake&gt;');
    expect(boxes(closed, 'ps-span-other')).toHaveLength(0);
  });

  it('shows the present only on its day', () => {
    expect(week([dayWith([]), dayWith([], { nowMinute: 855 })]).split('class="ps-now"')).toHaveLength(2);
  });

  it('is named for who listens and has no ids of another picture', () => {
    const markup = week([dayWith([])]);
    expect(markup).toContain('role="img" aria-label="Week"');
    expect([...markup.matchAll(/id="([^"]+)"/g)].every(([, id]) => id?.startsWith('w-'))).toBe(true);
  });
});

describe('a day for the phone', () => {
  it('runs down, one scale, the first lane the widest', () => {
    const span: TimeSpan = { startMinute: 600, endMinute: 660, kind: 'other', label: 'Ishaan' };
    const lanes = [
      { lane: 'press', heightPx: 34, spans: [span] },
      { lane: 'oven', heightPx: 16, spans: [{ ...span, endMinute: 720 }] },
    ];
    const { markup } = dayTimeLine({ ...HOURS, prefix: 'd', label: 'Day', day: dayWith([], { lanes }) });
    const found = [
      ...markup.matchAll(/class="ps-span-other" x="[^"]+" y="([^"]+)" width="([^"]+)" height="([^"]+)"/g),
    ].map(([, y, width, height]) => [Number(y), Number(width), Number(height)]);
    const [press = [], oven = []] = found;
    expect(press[0]).toBe(oven[0]);
    expect(oven[2]).toBeCloseTo(2 * (press[2] ?? 0), 6);
    expect(press[1]).toBeGreaterThan(2 * (oven[1] ?? 0));
  });
});
