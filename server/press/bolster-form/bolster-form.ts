import { z } from 'zod';
import { SCREW_SIZES } from '../../engineering/fit/fasteners/iso-261-threads.js';
import { ALLOYS, type BolsterFacts } from '../../engineering/press-facts.js';
import { type FieldErrors, type ReadForm, readForm } from '../../http/form.js';
import { quantity, wholeQuantity } from '../../http/quantity.js';
import { text } from '../../http/text.js';
import { PRESS_FORM_ERRORS as WRONG } from '../../words/en/bolster-form.js';
import { optional } from '../optional.js';
import { bolsterFields } from '../version-changes.js';
import type { HoleGrid } from './hole-grid.js';
import { readHoles, type UsualHole, writeHoles } from './hole-table.js';
import { readOpenings, writeOpenings } from './opening-table.js';

const usualFields = {
  thread: z.enum(SCREW_SIZES as unknown as readonly [string, ...string[]], WRONG.choose),
  holeDepthMm: quantity(1, 200),
  holePositionMm: quantity(0, 2),
};

const factFields = z
  .object({
    faceWidthMm: quantity(20, 3000),
    faceHeightMm: quantity(20, 3000),
    faceCentreXMm: quantity(-1500, 1500),
    faceCentreYMm: quantity(-1500, 1500),
    faceMaterial: z.enum(ALLOYS, WRONG.choose),
    allowableFacePressureMpa: quantity(1, 2000),
    halfMovingMm: optional(quantity(1, 1000)),
    halfFixedMm: optional(quantity(1, 1000)),
    halfMaterial: optional(z.enum(ALLOYS, WRONG.choose)),
    sprueLengthMm: quantity(1, 300),
    sprueNozzleEndMm: quantity(0.5, 30),
    spruePartingFaceMm: quantity(0.5, 50),
    minimumDaylightMm: quantity(0, 2000),
    largestStackMm: quantity(1, 3000),
    ...usualFields,
    holes: z.string().default(''),
    openings: z.string().default(''),
  })
  .superRefine(({ halfMovingMm, halfFixedMm }, context) => {
    if ((halfMovingMm === null) === (halfFixedMm === null)) return;
    const path = [halfMovingMm === null ? 'halfMovingMm' : 'halfFixedMm'];
    context.addIssue({ code: 'custom', path, message: WRONG.both });
  });

const gridFields = z.object({
  ...usualFields,
  gridColumns: wholeQuantity(1, 40),
  gridRows: wholeQuantity(1, 40),
  gridPitchXMm: quantity(1, 1000),
  gridPitchYMm: quantity(1, 1000),
  gridFirstXMm: optional(quantity(-5000, 5000)),
  gridFirstYMm: optional(quantity(-5000, 5000)),
  gridLeaveOut: z.string().max(4000).default(''),
});

const whyField = z.object({
  why: z.string(WRONG.why).trim().min(1, WRONG.why).max(200, WRONG.why).pipe(text(200)),
});
const nameField = z.object({
  name: z.string(WRONG.name).trim().min(1, WRONG.name).max(60, WRONG.name).pipe(text(60)),
});

/** What a form says a bolster is, or what is wrong with it, cell by cell. */
export function readBolsterForm(body: unknown): ReadForm<BolsterFacts> {
  const read = readForm(factFields, body);
  if (read.errors !== undefined) return read;
  const { given, value } = read;
  const [holes, openings] = [readHoles(value.holes, usualOf(value)), readOpenings(value.openings)];
  if ('error' in holes || 'error' in openings) {
    const errors = {
      ...('error' in holes && { holes: holes.error }),
      ...('error' in openings && { openings: openings.error }),
    };
    return { given, errors };
  }
  return { given, value: factsOf(value, holes.holes, openings.openings) };
}

/** The words over a new version, or over a new bolster with its name. */
export function readWhy(body: unknown): ReadForm<z.output<typeof whyField>> {
  return readForm(whyField, body);
}

export function readName(body: unknown): ReadForm<z.output<typeof nameField>> {
  return readForm(nameField, body);
}

/** The grid that a form describes, with what its holes are tapped with. */
export function readGrid(body: unknown): ReadForm<{ readonly grid: HoleGrid; readonly usual: UsualHole }> {
  const read = readForm(gridFields, body);
  if (read.errors !== undefined) return read;
  const { value } = read;
  const grid: HoleGrid = {
    columns: value.gridColumns,
    rows: value.gridRows,
    pitchXMm: value.gridPitchXMm,
    pitchYMm: value.gridPitchYMm,
    firstXMm: value.gridFirstXMm,
    firstYMm: value.gridFirstYMm,
    leaveOut: value.gridLeaveOut,
  };
  return { given: read.given, value: { grid, usual: usualOf(value) } };
}

/** What holes that a form brings by grid or drawing are tapped with. */
export function readUsual(body: unknown): ReadForm<UsualHole> {
  const read = readForm(z.object(usualFields), body);
  return read.errors === undefined ? { given: read.given, value: usualOf(read.value) } : read;
}

function usualOf(value: {
  readonly thread: string;
  readonly holeDepthMm: number;
  readonly holePositionMm: number;
}): UsualHole {
  return { thread: value.thread, depthMm: value.holeDepthMm, positionMm: value.holePositionMm };
}

function factsOf(
  value: z.output<typeof factFields>,
  holes: BolsterFacts['holes'],
  faceOpenings: BolsterFacts['faceOpenings'],
): BolsterFacts {
  const { halfMovingMm: moving, halfFixedMm: fixed } = value;
  return {
    face: {
      widthMm: value.faceWidthMm,
      heightMm: value.faceHeightMm,
      centre: { x: value.faceCentreXMm, y: value.faceCentreYMm },
    },
    faceMaterial: value.faceMaterial,
    allowableFacePressureMpa: value.allowableFacePressureMpa,
    holes,
    faceOpenings,
    sprue: {
      lengthMm: value.sprueLengthMm,
      nozzleEndDiameterMm: value.sprueNozzleEndMm,
      partingFaceDiameterMm: value.spruePartingFaceMm,
    },
    minimumDaylightMm: value.minimumDaylightMm,
    largestStackMm: value.largestStackMm,
    halfThicknessMm: moving === null || fixed === null ? null : { moving, fixed },
    halfMaterial: value.halfMaterial,
  };
}

/** A bolster as the fields of a form. */
export function fieldsOfBolster(facts: BolsterFacts): FieldErrors {
  const { holes, openings, ...figures } = bolsterFields(facts);
  const [first] = holes;
  return {
    ...Object.fromEntries(Object.entries(figures).map(([name, value]) => [name, String(value ?? '')])),
    thread: first?.thread ?? 'M6',
    holeDepthMm: String(first?.depthMm ?? ''),
    holePositionMm: String(first?.positionMm ?? ''),
    holes: writeHoles(holes),
    openings: writeOpenings(openings),
  };
}
