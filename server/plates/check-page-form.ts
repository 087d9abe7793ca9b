import { SCREW_SIZES } from '../engineering/fit/fasteners/iso-261-threads.js';
import { POLYMERS } from '../engineering/polymers/polymers.js';
import { ALLOYS } from '../engineering/press-facts.js';
import { MORE_BEGINS, MORE_FIELDS, MORE_LABELS, MORE_OPTIONS } from './more-facts-form.js';
import { RUN_BEGINS, RUN_FIELDS, RUN_LABELS, RUN_OPTIONS } from './run-facts.js';

/** Fields of the form in the order of its cells; their names are also the ids that errors point at. */
export const CHECK_FIELDS = [
  'alloy',
  'thicknessMm',
  'packerThicknessMm',
  'facingThicknessMm',
  'headSinkDepthMm',
  'headSinkDiameterMm',
  'screw',
  'screwLengthMm',
  'polymer',
  'bolsterId',
  ...MORE_FIELDS,
  ...RUN_FIELDS,
] as const;

export type CheckField = (typeof CHECK_FIELDS)[number];

/** The form's text as it came, wrong or not, so that nothing has to be typed twice. */
export type CheckFormValues = { readonly [field in CheckField]: string };

/** A plate from 16 mm stock with the usual screw sunk below its face: where the form begins. */
export const CHECK_FORM_BEGINS: Omit<CheckFormValues, 'bolsterId'> = {
  alloy: 'EN AW-6082-T6',
  thicknessMm: '16',
  packerThicknessMm: '0',
  facingThicknessMm: '0',
  headSinkDepthMm: '7',
  headSinkDiameterMm: '11',
  screw: 'M6',
  screwLengthMm: '20',
  polymer: 'PP',
  ...MORE_BEGINS,
  ...RUN_BEGINS,
};

/** What stands over the fields. */
export const CHECK_LABELS = {
  alloy: 'Alloy',
  thicknessMm: 'Thickness',
  packerThicknessMm: 'Packer',
  facingThicknessMm: 'Facing plate',
  headSinkDepthMm: 'Head sunk',
  headSinkDiameterMm: 'Sink across',
  screw: 'Screw',
  screwLengthMm: 'Screw length',
  polymer: 'Resin',
  bolsterId: 'Bolster',
  ...MORE_LABELS,
  ...RUN_LABELS,
} as const satisfies { readonly [field in CheckField]: string };

/** The drop zone's words once a drawing is read. */
export interface FileRead {
  readonly fileName: string;
  readonly how: string;
  readonly found: string;
  readonly notices: readonly string[];
}

export function fileRead(fileName: string, how: string, found: string, notices: readonly string[]): FileRead {
  return { fileName, how, found, notices };
}

/** A cell as templates/partials/cell.hbs takes it. */
interface CellView {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly size?: 'narrow' | 'wide' | 'full';
  readonly unit?: string;
  readonly value?: string;
  readonly error?: string;
  readonly inputMode?: 'decimal' | 'numeric';
  readonly options?: readonly { readonly value: string; readonly text: string; readonly selected: boolean }[];
}

export interface CheckFormView {
  readonly cells: readonly CellView[];
  /** The fold "More about the plate": open where something is said in it or wrong. */
  readonly more: { readonly cells: readonly CellView[]; readonly open: boolean; readonly rest: string };
  /** The fold "The run", likewise. */
  readonly run: { readonly cells: readonly CellView[]; readonly open: boolean };
  /** Null while nothing is read. */
  readonly read: FileRead | null;
  /** What was read before, base64url of the gzipped DXF, so that figures can be tried again; empty for nothing. */
  readonly drawing: string;
  readonly fileName: string;
  /** What the drop zone says of a file that was chosen and is not read. */
  readonly kept: { readonly fileName: string; readonly staysHere: boolean } | null;
  /** The sentence at the drop zone when no drawing came or it was refused. */
  readonly drawingError: string | null;
}

/** The form as it stands. `errors` are sentences by field; `dxf` is the drop zone's. */
export function checkForm(given: {
  readonly values: CheckFormValues;
  readonly bolsters: readonly { readonly id: string; readonly name: string; readonly mounted: boolean }[];
  readonly errors: { readonly [field in CheckField | 'dxf']?: string };
  readonly read: FileRead | null;
  readonly drawing: string;
  readonly fileName: string;
}): CheckFormView {
  const { values, bolsters, errors } = given;
  const field = (name: CheckField) => ({
    id: name,
    name,
    label: CHECK_LABELS[name],
    value: values[name],
    ...(errors[name] !== undefined && { error: errors[name] }),
  });
  const length = (name: CheckField) =>
    ({ ...field(name), size: 'narrow', unit: 'mm', inputMode: 'decimal' }) as const;
  const choice = (
    name: CheckField,
    size: 'narrow' | 'wide',
    options: readonly (readonly [value: string, text: string])[],
  ) => ({
    ...field(name),
    size,
    options: options.map(([value, text]) => ({ value, text, selected: value === values[name] })),
  });
  const alloys = ALLOYS.map((alloy) => [alloy, alloy.replace('cast-plate', 'cast plate')] as const);
  const sizes = SCREW_SIZES.map((size) => [size, size] as const);
  const polymers = POLYMERS.map(({ symbol, name }) => [symbol, `${symbol}, ${name}`] as const);
  const bolsterNames = bolsters.map(
    ({ id, name, mounted }) => [id, mounted ? `${name}, mounted` : name] as const,
  );
  return {
    cells: [
      choice('alloy', 'wide', alloys),
      length('thicknessMm'),
      length('packerThicknessMm'),
      length('facingThicknessMm'),
      length('headSinkDepthMm'),
      length('headSinkDiameterMm'),
      choice('screw', 'narrow', sizes),
      length('screwLengthMm'),
      choice('polymer', 'wide', polymers),
      choice('bolsterId', 'wide', bolsterNames),
    ],
    more: {
      cells: [
        { ...length('draftDeg'), unit: '°', hint: 'none said: the cutter’s' },
        choice('cavityCutter', 'narrow', MORE_OPTIONS.cavityCutter),
        length('cavityCutterMm'),
        choice('otherCutter', 'narrow', MORE_OPTIONS.otherCutter),
        length('otherCutterMm'),
        length('groupDiameterMm'),
        { ...field('groupHoles'), size: 'narrow', hint: 'for instance 3, 4' },
        choice('groupScrew', 'narrow', MORE_OPTIONS.groupScrew),
        length('groupScrewLengthMm'),
        length('groupSinkDepthMm'),
        length('groupSinkDiameterMm'),
      ],
      open: MORE_FIELDS.some((name) => values[name] !== '' || errors[name] !== undefined),
      rest: values.moreFacts,
    },
    run: {
      cells: [
        {
          ...field('shots'),
          size: 'narrow',
          inputMode: 'numeric',
          hint: 'none said: minutes to each limit, no verdict on heat',
        },
        { ...choice('chiller', 'wide', RUN_OPTIONS), hint: 'needs WATER channels in the drawing' },
      ],
      open: RUN_FIELDS.some((name) => values[name] !== '' || errors[name] !== undefined),
    },
    read: given.read,
    drawing: given.drawing,
    fileName: given.fileName,
    kept:
      given.read === null && given.fileName !== ''
        ? { fileName: given.fileName, staysHere: given.drawing !== '' }
        : null,
    drawingError: errors.dxf ?? null,
  };
}
