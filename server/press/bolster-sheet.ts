import { SCREW_SIZES } from '../engineering/fit/fasteners/iso-261-threads.js';
import type { BolsterFacts } from '../engineering/press-facts.js';
import { bolsterFace } from '../pictures/bolster-face.js';
import type { PlaceMark } from '../pictures/place-marks.js';
import { BOLSTER_FORM_LABELS as LABELS } from '../words/en/bolster-form.js';
import {
  BOLSTER_FIELD_WORDS,
  FACE_PICTURE_WORDS,
  type FieldWords,
  fieldText,
  plainNumber,
} from '../words/en/press.js';
import { momentText } from '../words/en/times.js';
import { writeOpenings } from './bolster-form/opening-table.js';
import { bolsterChangeRows } from './change-rows.js';
import { choiceCell, type FormShown, figureCell, METAL_OPTIONS } from './form-cell.js';
import { bolsterFields } from './version-changes.js';
import type { VersionTold } from './version-store.js';

/**
 * A bolster's face as a picture.
 *
 * @param wrong places that something is wrong with, mm from the sprue axis
 * @param marks places with a number
 */
export function drawBolster(
  facts: BolsterFacts,
  wrong: readonly { readonly x: number; readonly y: number }[] = [],
  marks: readonly PlaceMark[] = [],
) {
  return bolsterFace({
    bolster: facts,
    wrong,
    marks,
    label: FACE_PICTURE_WORDS.label(facts),
    words: { face: FACE_PICTURE_WORDS.face(facts), length: FACE_PICTURE_WORDS.length },
  });
}

/** A bolster's facts, its holes as a table of their own. */
export function bolsterFactLines(facts: BolsterFacts) {
  const fields = bolsterFields(facts);
  return (Object.keys(fields) as (keyof typeof fields)[]).map((name) => ({
    label: BOLSTER_FIELD_WORDS[name].label,
    value: fieldText(name, fields[name]),
  }));
}

/** Rows of the hole table, numbered as in the picture. */
export function holeRows({ holes }: BolsterFacts) {
  return holes.map(({ at, thread, depthMm, positionMm }, i) => ({
    number: i + 1,
    x: plainNumber(at.x),
    y: plainNumber(at.y),
    thread,
    depth: plainNumber(depthMm),
    position: plainNumber(positionMm),
  }));
}

/** Openings in the face as lines of a list. */
export function openingLines({ faceOpenings }: BolsterFacts): readonly string[] {
  return writeOpenings(faceOpenings).split('\n').filter(Boolean);
}

/** Versions, the latest first, each with what it changed. */
export function bolsterHistory(versions: readonly VersionTold<BolsterFacts>[], timeZone: string) {
  return versions.map(({ version, at, madeBy, why, facts }, i) => {
    const before = versions[i + 1]?.facts;
    return {
      version,
      when: momentText(at, timeZone),
      madeBy,
      why,
      rows: before === undefined ? [] : bolsterChangeRows(before, facts),
    };
  });
}

const FACE = ['faceWidthMm', 'faceHeightMm', 'faceCentreXMm', 'faceCentreYMm'] as const;
const HALVES = ['halfMovingMm', 'halfFixedMm'] as const;
const SPRUE = [
  'sprueLengthMm',
  'sprueNozzleEndMm',
  'spruePartingFaceMm',
  'minimumDaylightMm',
  'largestStackMm',
] as const;
const USUAL = ['holeDepthMm', 'holePositionMm'] as const;
const GRID = [
  'gridColumns',
  'gridRows',
  'gridPitchXMm',
  'gridPitchYMm',
  'gridFirstXMm',
  'gridFirstYMm',
] as const;

/** The cells of a bolster's form, section by section. */
export function bolsterCells(shown: FormShown) {
  const own = (name: keyof typeof BOLSTER_FIELD_WORDS) => figureCell(name, BOLSTER_FIELD_WORDS[name], shown);
  const other = (name: keyof typeof LABELS) => figureCell(name, LABELS[name] as FieldWords, shown);
  const metal = (name: 'faceMaterial' | 'halfMaterial', options: readonly (readonly [string, string])[]) =>
    choiceCell(name, BOLSTER_FIELD_WORDS[name], options, shown);
  const sizes = SCREW_SIZES.map((size) => [size, size] as const);
  return {
    face: [...FACE.map(own), metal('faceMaterial', METAL_OPTIONS), own('allowableFacePressureMpa')],
    halves: [...HALVES.map(own), metal('halfMaterial', [['', 'not known'], ...METAL_OPTIONS])],
    sprue: SPRUE.map(own),
    usual: [choiceCell('thread', LABELS.thread, sizes, shown), ...USUAL.map(other)],
    grid: [...GRID.map(other), { ...other('gridLeaveOut'), inputMode: 'text', size: 'wide' }],
    holes: { value: shown.given.holes ?? '', error: shown.errors.holes },
    openings: { value: shown.given.openings ?? '', error: shown.errors.openings },
  };
}

/** What stands over every field of a bolster's form, for the summary of what is wrong. */
export const BOLSTER_LABELS: { readonly [field: string]: string } = Object.fromEntries(
  Object.entries({ ...BOLSTER_FIELD_WORDS, ...LABELS }).map(([name, { label }]) => [name, label]),
);
