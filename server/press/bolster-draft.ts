import type { FastifyRequest } from 'fastify';
import type { BolsterFacts } from '../engineering/press-facts.js';
import { actorOf } from '../http/acting.js';
import { memberAsking } from '../http/asker.js';
import { type FieldErrors, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { PRESS_FORM_ERRORS as WRONG } from '../words/en/bolster-form.js';
import { wordNotice } from '../words/en/drawing-notices.js';
import { faceFoundText } from '../words/en/press.js';
import { bolsterFaults } from './bolster-faults.js';
import { readBolsterForm, readGrid, readUsual } from './bolster-form/bolster-form.js';
import { holesOfGrid } from './bolster-form/hole-grid.js';
import { writeHoles } from './bolster-form/hole-table.js';
import { writeOpenings } from './bolster-form/opening-table.js';
import { writeLength } from './bolster-form/read-length.js';
import { BOLSTER_LABELS } from './bolster-sheet.js';
import type { PressHouse } from './press-house.js';

/** A bolster's form while somebody fills it in, after one of its buttons. */
export interface BolsterDraft {
  readonly given: FieldErrors;
  readonly errors: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
  /** What its cells say, where they say a bolster at all. */
  readonly facts?: BolsterFacts;
  /** Places that something is wrong with, mm. */
  readonly wrong: readonly { readonly x: number; readonly y: number }[];
  /** What was found in a drawing. */
  readonly found?: string;
}

/** Fills the table of holes from the grid, or all of the face from a drawing, as the button says; then looks at it. */
export async function draftOf(request: FastifyRequest, house: PressHouse): Promise<BolsterDraft> {
  const body = request.body as { readonly do?: unknown; readonly dxf?: unknown };
  if (body.do === 'grid') return withGrid(body);
  if (body.do === 'drawing') return withDrawing(request, body, house);
  return looked(body);
}

/** A draft with what is wrong with it: cell by cell first, then with the bolster as a whole. */
export function looked(body: object, found?: string): BolsterDraft {
  const { given, value: facts, errors } = readBolsterForm(body);
  const more = found === undefined ? {} : { found };
  if (errors !== undefined) return { ...wrongCells(given, errors), ...more };
  const [first, ...others] = bolsterFaults(facts);
  if (first === undefined) return { given, errors: {}, facts, wrong: [], ...more };
  const refusal = new Refusal([first, ...others]);
  const wrong = refusal.reasons.flatMap(({ place }) =>
    place?.xMm === undefined || place.yMm === undefined ? [] : [{ x: place.xMm, y: place.yMm }],
  );
  return { given, errors: {}, facts, wrong, errorSummary: summaryOfRefusal(refusal), ...more };
}

function wrongCells(given: FieldErrors, errors: FieldErrors): BolsterDraft {
  return { given, errors, wrong: [], errorSummary: summaryOfErrors(errors, BOLSTER_LABELS) };
}

function withGrid(body: object): BolsterDraft {
  const { given, value, errors } = readGrid(body);
  if (errors !== undefined) return wrongCells(given, errors);
  const made = holesOfGrid(value.grid, value.usual);
  if ('error' in made) return wrongCells(given, { gridLeaveOut: made.error });
  return looked({ ...given, holes: writeHoles(made.holes) });
}

async function withDrawing(request: FastifyRequest, body: object, house: PressHouse): Promise<BolsterDraft> {
  const { given, value: usual, errors } = readUsual(body);
  if (errors !== undefined) return wrongCells(given, errors);
  const upload = request.uploads.find(({ field }) => field === 'dxf');
  if (upload?.tooLarge === true) return wrongCells(given, { dxf: WRONG.tooLarge });
  if (upload === undefined || upload.bytes.length === 0) return wrongCells(given, { dxf: WRONG.noDrawing });
  const drawing = await house.readBolster(upload.bytes, memberAsking(actorOf(request)));
  if (drawing instanceof Refusal) {
    return { given, errors: {}, wrong: [], errorSummary: summaryOfRefusal(drawing) };
  }
  const { holes, face, openings, notices } = drawing;
  const fields = {
    ...given,
    holes: writeHoles(holes.map(({ at }) => ({ at, ...usual }))),
    ...(face !== null && {
      faceWidthMm: writeLength(face.widthMm),
      faceHeightMm: writeLength(face.heightMm),
      faceCentreXMm: writeLength(face.centre.x),
      faceCentreYMm: writeLength(face.centre.y),
      openings: writeOpenings(openings),
    }),
  };
  const across = [...new Set(holes.map(({ diameterMm }) => Math.round(diameterMm * 100) / 100))];
  const found = faceFoundText(holes.length, across, openings.length, face !== null);
  return looked(fields, [found, ...notices.map((notice) => wordNotice(notice))].join('. '));
}
