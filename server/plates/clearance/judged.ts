import type { JudgedReading } from '../../engineering/fit/judge-readings.js';
import type { Reason } from '../../reasons.js';

/** Why readings do not let a plate's fit be cleared; none when nothing among them stops it. */
export function reasonsOfReadings(judged: readonly JudgedReading[]): readonly Reason[] {
  return judged.filter(({ verdict }) => verdict === 'stop').map(reasonOf);
}

function reasonOf(one: JudgedReading): Reason {
  const corner = /^thicknessMm\.(\d)$/.exec(one.field)?.[1];
  const named = {
    check: one.check,
    ...(one.hole !== null && { hole: one.hole }),
    ...(corner !== undefined && { corner }),
  };
  const { figureMm, drawnMm, limitMm, meantMm } = one;
  const field = fieldOf(one);
  switch (one.situation) {
    case 'in-inches':
      return {
        code: 'reading-in-inches',
        field,
        figures: { ...named, given: figureMm, meantMm: (meantMm ?? 0).toFixed(1) },
      };
    case 'contradicts':
      return {
        code: 'reading-contradicts-drawing',
        field,
        figures: {
          ...named,
          givenMm: figureMm,
          drawnMm: rounded(drawnMm ?? 0),
          offMm: rounded(Math.abs(figureMm - (drawnMm ?? 0))),
          bandMm: limitMm,
        },
      };
    default:
      return {
        code: one.situation === 'not-drawn' ? 'reading-hole-not-drawn' : 'reading-beyond-limit',
        field,
        figures: {
          ...named,
          figureMm: rounded(figureMm),
          limitMm: rounded(limitMm),
          allowed: one.allowed === 'at-most' ? 'at most' : 'at least',
        },
      };
  }
}

/** To a thousandth of a millimetre, as a micrometer shows it. */
function rounded(mm: number): number {
  return Math.round(mm * 1000) / 1000;
}

/** The reading's place in a request. */
function fieldOf({ field }: JudgedReading): string {
  return field.startsWith('thicknessMm')
    ? field.replace('thicknessMm', 'measuredThicknessMm')
    : `readings.${field}`;
}
