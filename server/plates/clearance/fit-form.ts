import { CLEARANCE_ERRORS, MEASURE_WORDS as WORDS } from '../../words/en/clearance.js';
import { fieldsOf } from '../plate-form.js';
import { numberIn } from '../uploaded-drawing.js';
import type { FitReadings, HoleReading } from './readings.js';
import { clearanceNote } from './schemas.js';

/** A measuring sheet as it was sent: what was typed, by field, and what can be made of it. */
export interface FitForm {
  readonly given: { readonly [field: string]: string | undefined };
  readonly readings: FitReadings;
  readonly note: string | null;
  readonly errors: { readonly [field: string]: string };
}

/** The four corners in the order of their readings. */
export const CORNER_FIELDS = ['t0', 't1', 't2', 't3'] as const;

/** The fields of a hole, from 1: its diameter, and its sink's diameter and depth. */
export function holeFields(hole: number) {
  return { diameterMm: `h${hole}d`, sinkDiameterMm: `h${hole}s`, sinkDepthMm: `h${hole}k` } as const;
}

/**
 * Reads a measuring sheet. To clear, the four corners and both ticks are needed; to refuse, whatever was read before
 * the plate was put down.
 */
export function readFitForm(body: unknown, holes: number, toClear: boolean): FitForm {
  const given = fieldsOf(body);
  const errors: Record<string, string> = {};
  const length = (field: string): number | null => {
    const typed = (given[field] ?? '').trim();
    if (typed === '') return null;
    const value = numberIn(typed.replace(/\s*mm$/, ''));
    if (typeof value === 'number' && value > 0 && value <= 1000) return value;
    errors[field] = WORDS.notRead;
    return null;
  };
  const [topLeft, topRight, bottomRight, bottomLeft] = CORNER_FIELDS.map(length);
  const measured =
    typeof topLeft === 'number' &&
    typeof topRight === 'number' &&
    typeof bottomRight === 'number' &&
    typeof bottomLeft === 'number';
  const read: HoleReading[] = Array.from({ length: holes }, (_, i) => {
    const fields = holeFields(i + 1);
    return {
      hole: i + 1,
      diameterMm: length(fields.diameterMm),
      sinkDiameterMm: length(fields.sinkDiameterMm),
      sinkDepthMm: length(fields.sinkDepthMm),
    };
  });
  const burrsRemoved = given.burrs === 'on';
  const headsBelowFace = given.heads === 'on';
  if (toClear) {
    for (const field of CORNER_FIELDS) {
      if ((given[field] ?? '').trim() === '') errors[field] = WORDS.missing;
    }
    if (!burrsRemoved) errors.burrs = WORDS.tick;
    if (!headsBelowFace) errors.heads = WORDS.tick;
  }
  const note = (given.note ?? '').trim();
  if (note !== '' && !clearanceNote.safeParse(note).success) errors.note = CLEARANCE_ERRORS.note;
  return {
    given,
    readings: {
      thicknessMm: measured ? [topLeft, topRight, bottomRight, bottomLeft] : null,
      holes: read.filter(
        ({ diameterMm, sinkDiameterMm, sinkDepthMm }) =>
          diameterMm !== null || sinkDiameterMm !== null || sinkDepthMm !== null,
      ),
      feedDiameterMm: length('feedD'),
      feedDepthMm: length('feedK'),
      burrsRemoved,
      headsBelowFace,
    },
    note: note === '' ? null : note,
    errors,
  };
}

/** The form's field of a reason's: `measuredThicknessMm.2` is `t2`, `readings.holes.0.diameterMm` is that hole's. */
export function formFieldOf(field: string | undefined, { holes }: Pick<FitReadings, 'holes'>): string {
  const corner = /^measuredThicknessMm\.(\d)$/.exec(field ?? '')?.[1];
  if (corner !== undefined) return `t${corner}`;
  if (field?.startsWith('measuredThicknessMm') === true) return CORNER_FIELDS[0];
  const [, at, name] = /^readings\.holes\.(\d+)\.(\w+)$/.exec(field ?? '') ?? [];
  const hole = at === undefined ? undefined : holes[Number(at)]?.hole;
  if (hole !== undefined) {
    const fields: { readonly [name: string]: string } = holeFields(hole);
    return fields[name ?? ''] ?? fields.diameterMm ?? '';
  }
  const OTHERS: { readonly [field: string]: string } = {
    'readings.feedDiameterMm': 'feedD',
    'readings.feedDepthMm': 'feedK',
    'readings.burrsRemoved': 'burrs',
    'readings.headsBelowFace': 'heads',
  };
  return OTHERS[field ?? ''] ?? field ?? '';
}
