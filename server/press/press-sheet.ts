import type { PressFacts } from '../engineering/press-facts.js';
import { fieldText, PRESS_FIELD_WORDS } from '../words/en/press.js';
import { dateText, momentText, spanText } from '../words/en/times.js';
import { pressChangeRows } from './change-rows.js';
import { choiceCell, type FormShown, figureCell } from './form-cell.js';
import type { Inspection } from './inspections/store.js';
import type { Mounting } from './mounting-store.js';
import type { Outage } from './outages/store.js';
import type { Bolster } from './store.js';
import { type PressField, pressFields } from './version-changes.js';
import type { VersionTold } from './version-store.js';

const CLAMP: readonly PressField[] = [
  'clampKind',
  'clampMinKn',
  'clampMaxKn',
  'tieBarsWidthMm',
  'tieBarsHeightMm',
  'platensGuided',
  'eccentricMomentNmm',
  'platenThicknessMm',
  'openingStrokeMm',
  'dryCycleS',
];

const INJECTION: readonly PressField[] = [
  'screwDiameterMm',
  'shotCm3',
  'maxPressureMpa',
  'maxFlowCm3PerS',
  'barrelShots',
  'nozzleOrificeMm',
  'intensification',
];

const CHILLER: readonly PressField[] = ['chillerFlowLPerMin', 'chillerWaterC'];

/** The press's facts, unit by unit. */
export function pressFactLines(facts: PressFacts) {
  const fields = pressFields(facts);
  const lines = (names: readonly PressField[]) =>
    names.map((name) => ({ label: PRESS_FIELD_WORDS[name].label, value: fieldText(name, fields[name]) }));
  return { clamp: lines(CLAMP), injection: lines([...INJECTION, ...CHILLER]) };
}

/** The cells of the press's form, unit by unit. */
export function pressCells(shown: FormShown) {
  const cell = (name: PressField) => {
    const words = PRESS_FIELD_WORDS[name];
    if (name === 'clampKind') {
      return choiceCell(
        name,
        words,
        [
          ['hydraulic', 'Hydraulic'],
          ['toggle', 'Toggle'],
        ],
        shown,
      );
    }
    if (name === 'platensGuided') {
      return choiceCell(
        name,
        words,
        [
          ['', 'No, or not known'],
          ['yes', 'Yes'],
        ],
        shown,
      );
    }
    return figureCell(name, words, shown);
  };
  return { clamp: CLAMP.map(cell), injection: INJECTION.map(cell), chiller: CHILLER.map(cell) };
}

/** What stands over every field of the press's form. */
export const PRESS_LABELS: { readonly [field: string]: string } = Object.fromEntries(
  Object.entries(PRESS_FIELD_WORDS).map(([name, { label }]) => [name, label]),
);

/** Versions, the latest first, each with what it changed. */
export function pressHistory(versions: readonly VersionTold<PressFacts>[], timeZone: string) {
  return versions.map(({ version, at, madeBy, why, facts }, i) => {
    const before = versions[i + 1]?.facts;
    const rows = before === undefined ? [] : pressChangeRows(before, facts);
    return { version, when: momentText(at, timeZone), madeBy, why, rows };
  });
}

export function bolsterLines(bolsters: readonly Bolster[]) {
  return bolsters.map(({ id, name, version, mounted, facts }) => ({
    href: `/bolsters/${id}`,
    name,
    version,
    mounted,
    face: `${facts.face.widthMm} × ${facts.face.heightMm} mm`,
    holes: fieldText('holes', facts.holes),
  }));
}

export function outageLines(outages: readonly Outage[], now: Date, timeZone: string) {
  return outages.map(({ id, equipment, startsAt, endsAt, reason, madeBy }) => ({
    id,
    what: equipment,
    when: spanText(startsAt, endsAt, timeZone),
    isNow: startsAt <= now,
    reason,
    madeBy,
  }));
}

export function inspectionLines(inspections: readonly Inspection[], timeZone: string) {
  return inspections.map(({ inspectedOn, inspectedBy, intervalMonths, dueAt, note, recordedBy }) => ({
    // A calendar day, the same in every zone.
    on: dateText(new Date(`${inspectedOn}T00:00:00Z`), 'UTC'),
    by: inspectedBy,
    every: intervalMonths,
    due: momentText(dueAt, timeZone),
    note,
    recordedBy,
  }));
}

export function mountingLines(mountings: readonly Mounting[], timeZone: string) {
  return mountings.map(({ bolster, why, mountedBy, mountedAt }) => ({
    when: momentText(mountedAt, timeZone),
    bolster,
    why,
    mountedBy,
  }));
}
