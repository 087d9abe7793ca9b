import { promisify } from 'node:util';
import { gunzip, gzip } from 'node:zlib';
import type { FastifyRequest } from 'fastify';
import { screwSize } from '../engineering/fit/fasteners/iso-261-threads.js';
import { ALLOYS, type Alloy, type PlateFacts } from '../engineering/press-facts.js';
import { DRAWING_BYTES_MAX } from '../http/dxf-text.js';
import { summaryOfErrors } from '../http/form.js';
import { type Reason, Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { absurdFact, MORE_FORM_ERRORS, PLATE_FORM_ERRORS } from '../words/en/plates.js';
import { wordReason } from '../words/en/reasons.js';
import { changeFromForm } from './check-page-findings.js';
import {
  CHECK_FIELDS,
  CHECK_FORM_BEGINS,
  CHECK_LABELS,
  type CheckField,
  type CheckFormValues,
} from './check-page-form.js';
import { MORE_FORM_FIELD, type MoreBody, moreOfForm, moreValuesOfFacts } from './more-facts-form.js';
import { plateFactsOf } from './plate-facts.js';
import { RUN_BEGINS } from './run-facts.js';
import { type DrawingFile, numberIn, safeFileName } from './uploaded-drawing.js';

/** Sentences by field of the form; `dxf` is the drop zone's. */
export type PlateFormErrors = { readonly [field in CheckField | 'dxf' | 'name' | 'note']?: string };

/** The summary of what is wrong, each line with its field's name; nothing when nothing is. */
export function summaryOfPlateForm(errors: PlateFormErrors): ErrorSummaryView | undefined {
  const entries = Object.entries(errors).filter((entry): entry is [string, string] => entry[1] !== undefined);
  return entries.length === 0 ? undefined : summaryOfErrors(Object.fromEntries(entries), CHECK_LABELS);
}

/** The text of the form as it came, with what a "Check with it" button changes in it. */
export function formValues(body: unknown, mountedBolsterId: string): CheckFormValues {
  const form = fieldsOf(body);
  const begins: CheckFormValues = { ...CHECK_FORM_BEGINS, bolsterId: mountedBolsterId };
  const given = Object.fromEntries(CHECK_FIELDS.map((field) => [field, form[field] ?? begins[field]]));
  return { ...begins, ...given, ...changeFromForm(form.with ?? '') };
}

/** A field of a form that is text, or nothing. */
export function fieldsOf(body: unknown): { readonly [field: string]: string | undefined } {
  if (typeof body !== 'object' || body === null) return {};
  return Object.fromEntries(
    Object.entries(body).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}

const LENGTHS = [
  'thicknessMm',
  'packerThicknessMm',
  'facingThicknessMm',
  'headSinkDepthMm',
  'headSinkDiameterMm',
  'screwLengthMm',
] as const satisfies readonly CheckField[];

type LengthField = (typeof LENGTHS)[number];

/** These must be said; of the others, nothing said is none. */
const NEEDED: ReadonlySet<LengthField> = new Set(['thicknessMm', 'screwLengthMm']);

/** The facts of a form, or what is wrong at which of its fields. */
export function factsOfForm(values: CheckFormValues): PlateFacts | { readonly errors: PlateFormErrors } {
  const errors: { [field in CheckField]?: string } = {};
  const lengths: { [field in LengthField]?: number } = {};
  for (const field of LENGTHS) {
    const text = values[field].trim();
    const value = numberIn(text);
    if (typeof value === 'number') lengths[field] = value;
    else if (text !== '' || NEEDED.has(field)) errors[field] = PLATE_FORM_ERRORS.length;
  }
  const alloy = ALLOYS.find((one): one is Alloy => one === values.alloy);
  if (alloy === undefined) errors.alloy = PLATE_FORM_ERRORS.alloy;
  if (screwSize(values.screw) === null) errors.screw = PLATE_FORM_ERRORS.screw;
  if (alloy === undefined || Object.keys(errors).length > 0) return { errors };
  const more = moreOfForm(values);
  if ('unread' in more)
    return {
      errors: Object.fromEntries(more.unread.map((field) => [field, MORE_FORM_ERRORS[field]])),
    };
  return sensible(values.screw, alloy, lengths, more);
}

function sensible(
  size: string,
  alloy: Alloy,
  lengths: { readonly [field in LengthField]?: number },
  more: MoreBody,
): PlateFacts | { readonly errors: PlateFormErrors } {
  const { thicknessMm = 0, screwLengthMm = 0, facingThicknessMm, packerThicknessMm } = lengths;
  const { headSinkDepthMm, headSinkDiameterMm } = lengths;
  const facts = plateFactsOf({
    thicknessMm,
    alloy,
    ...more,
    ...(facingThicknessMm !== undefined && { facingThicknessMm }),
    ...(packerThicknessMm !== undefined && { packerThicknessMm }),
    screw: {
      size,
      lengthMm: screwLengthMm,
      ...(headSinkDepthMm !== undefined && { headSinkDepthMm }),
      ...(headSinkDiameterMm !== undefined && { headSinkDiameterMm }),
    },
  });
  return facts instanceof Refusal ? { errors: errorsOfFacts(facts) } : facts;
}

const FORM_FIELD: { readonly [field: string]: CheckField } = {
  'screw.size': 'screw',
  'screw.lengthMm': 'screwLengthMm',
  'screw.headSinkDepthMm': 'headSinkDepthMm',
  'screw.headSinkDiameterMm': 'headSinkDiameterMm',
  ...MORE_FORM_FIELD,
};

/** Where a form asks for what a reason names, if it does. */
export function formFieldOf({ field }: Reason): CheckField | undefined {
  return FORM_FIELD[field ?? ''];
}

function errorsOfFacts({ reasons }: Refusal): PlateFormErrors {
  return Object.fromEntries(
    reasons.map((reason) => [
      formFieldOf(reason) ?? reason.field ?? '',
      reason.code === 'plate-facts-absurd'
        ? absurdFact(String(reason.figures?.detail ?? ''))
        : wordReason(reason).message,
    ]),
  );
}

/** The facts of a kept revision as a form shows them. */
export function valuesOfFacts(facts: PlateFacts, polymer: string, bolsterId: string): CheckFormValues {
  return {
    alloy: facts.alloy,
    thicknessMm: String(facts.thicknessMm),
    packerThicknessMm: String(facts.packerThicknessMm),
    facingThicknessMm: String(facts.facingThicknessMm),
    headSinkDepthMm: text(facts.screw.headSinkDepthMm),
    headSinkDiameterMm: text(facts.screw.headSinkDiameterMm),
    screw: facts.screw.size,
    screwLengthMm: String(facts.screw.lengthMm),
    polymer,
    bolsterId,
    ...moreValuesOfFacts(facts),
    ...RUN_BEGINS,
  };
}

function text(lengthMm: number | null): string {
  return lengthMm === null ? '' : String(lengthMm);
}

/** A packed drawing longer than this is not carried in the form: its file has to be chosen again. */
const CARRIED_LENGTH_MAX = 8_000_000;

/** A drawing as a hidden field carries it, so that figures can be tried again without choosing the file. */
async function packed(bytes: Uint8Array): Promise<string> {
  const text = (await promisify(gzip)(bytes)).toString('base64url');
  return text.length > CARRIED_LENGTH_MAX ? '' : text;
}

/** A drawing that was chosen and is not there: it did not come along with the form, or its file is too large. */
export type NoDrawing = 'lost' | 'too-large';

/** What a form brought for a drawing; undefined where none was ever chosen. */
export type DrawingChosen = DrawingFile | NoDrawing | undefined;

export function isDrawing(chosen: DrawingChosen): chosen is DrawingFile {
  return typeof chosen === 'object';
}

/** What is wrong at the drop zone where there is no drawing. */
export function noDrawingText(chosen: NoDrawing | undefined): string {
  if (chosen === undefined) return PLATE_FORM_ERRORS.noDrawing;
  return chosen === 'lost' ? PLATE_FORM_ERRORS.lost : PLATE_FORM_ERRORS.tooLarge;
}

/**
 * The drawing of a form: the file chosen now, an empty one too, else the one carried along; `undefined` when none
 * was ever chosen.
 */
export async function drawingOfForm(request: FastifyRequest): Promise<DrawingChosen> {
  const { dxf } = (request.body ?? {}) as { readonly dxf?: unknown };
  const chosen = request.uploadNames.get('dxf') ?? '';
  if (request.uploads.some(({ field, tooLarge }) => field === 'dxf' && tooLarge)) return 'too-large';
  if (dxf instanceof Uint8Array && (dxf.byteLength > 0 || chosen !== '')) {
    return { bytes: dxf, fileName: safeFileName(chosen) };
  }
  const { drawing = '', fileName = '' } = fieldsOf(request.body);
  if (drawing === '' && fileName === '') return undefined;
  const bytes = drawing === '' ? undefined : await unpacked(drawing);
  return bytes === undefined ? 'lost' : { bytes, fileName: safeFileName(fileName) };
}

/** What stays with the form of a drawing that was chosen: the hidden fields and what the drop zone says of them. */
export interface CarriedDrawing {
  readonly drawing: string;
  readonly fileName: string;
}

/** The drawing as its form carries it through every error; nothing of one that never came. */
export async function carriedWith(drawing: DrawingFile | undefined): Promise<CarriedDrawing> {
  if (drawing === undefined) return { drawing: '', fileName: '' };
  return { drawing: await packed(drawing.bytes), fileName: drawing.fileName };
}

/** A drawing as a hidden field carried it, or nothing where it cannot be one. */
export async function unpacked(text: string): Promise<Uint8Array | undefined> {
  const limit = { maxOutputLength: DRAWING_BYTES_MAX };
  return promisify<Uint8Array, object, Buffer>(gunzip)(Buffer.from(text, 'base64url'), limit).catch(
    () => undefined,
  );
}
