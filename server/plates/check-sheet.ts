import type { FastifyReply, FastifyRequest } from 'fastify';
import { type Asker, askerOf } from '../http/asker.js';
import { summaryOfRefusal } from '../http/form.js';
import { type SheetWords, sendSheet } from '../http/sheet.js';
import { type Bolster, bolsters } from '../press/store.js';
import { Refusal } from '../reasons.js';
import { findRulesAt } from '../shop/store.js';
import type { ErrorSummaryView } from '../views.js';
import { summaryTitle } from '../words/en/forms.js';
import { CHECK_TITLE, nameOfFile, PLATE_FORM_ERRORS, readIn, SAMPLES } from '../words/en/plates.js';
import { wordReason } from '../words/en/reasons.js';
import { momentText } from '../words/en/times.js';
import { type CheckDone, checkNow } from './check-now.js';
import { type CheckPage, checkResult, checkTitleBlock, drawingRead, type KeepView } from './check-page.js';
import { type CheckFormValues, checkForm } from './check-page-form.js';
import type { CheckingHouse } from './checking-house.js';
import { damageNotices } from './damage/damage-notices.js';
import {
  carriedWith,
  type DrawingChosen,
  factsOfForm,
  formFieldOf,
  isDrawing,
  noDrawingText,
  type PlateFormErrors,
  summaryOfPlateForm,
} from './plate-form.js';
import { polymerNamed } from './polymer-named.js';
import { runOfForm } from './run-facts.js';
import type { DrawingFile } from './uploaded-drawing.js';

/** A form as read: what stands in it, its drawing, and what was wrong before anything was checked. */
export interface CheckAsked {
  readonly values: CheckFormValues;
  readonly drawing: DrawingChosen;
  readonly errors?: PlateFormErrors;
  /** Why it was not kept. */
  readonly refusal?: Refusal;
  /** Name wished for the plate, where it was to be kept. */
  readonly name?: string;
  /** What is to be said about its first revision. */
  readonly note?: string;
}

interface Checked {
  readonly errors: PlateFormErrors;
  readonly errorSummary?: ErrorSummaryView;
  readonly status: number;
  readonly done?: CheckDone;
}

/** Checks what a form asks, and shows it: the form, the result, how the plate may be kept. */
export async function sendCheck(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  asked: CheckAsked,
): Promise<FastifyReply> {
  const [all, rules] = await Promise.all([
    bolsters(house.database),
    findRulesAt(house.database, house.now()),
  ]);
  const checked = await checkForForm(house, asked, all, askerOf(request));
  const { done } = checked;
  const drawing = isDrawing(asked.drawing) ? asked.drawing : undefined;
  const page: CheckPage & { readonly samples: readonly object[] } = {
    form: checkForm({
      values: asked.values,
      bolsters: all,
      errors: checked.errors,
      read:
        done && drawing
          ? drawingRead(drawing.fileName, readIn(done.drawing.units.mmPerUnit), done.drawing)
          : null,
      ...(await carriedWith(drawing)),
    }),
    result: done ? checkResult({ ...done, bolster: done.ground.bolster, facts: done.facts }) : null,
    keep: keepView(request, asked, drawing, checked.errors),
    samples: Object.entries(SAMPLES).map(([name, text]) => ({ href: `/check?sample=${name}`, text })),
  };
  const words: SheetWords = {
    title: CHECK_TITLE,
    current: 'check',
    ...(rules && { place: rules.makerspaceName }),
    ...(done && rules && resultWords(done, drawing, momentText(house.now(), rules.timeZone))),
    // Where the shop's own steel is dented is no stranger's business.
    ...(done && request.actor && { notices: await damageNotices(house, done) }),
    ...(checked.errorSummary && { errorSummary: checked.errorSummary }),
  };
  reply.code(checked.status);
  return sendSheet(request, reply, house, 'check/check', words, page);
}

/** Runs the check of a form, as far as what stands in it allows. */
async function checkForForm(
  house: CheckingHouse,
  asked: CheckAsked,
  all: readonly Bolster[],
  asker: Asker,
): Promise<Checked> {
  const { values, errors: before } = asked;
  if (asked.drawing === undefined && before === undefined) return { errors: {}, status: 200 };
  const drawing = isDrawing(asked.drawing) ? asked.drawing : undefined;
  const facts = factsOfForm(values);
  const polymer = polymerNamed(values.polymer);
  const run = runOfForm(values);
  const errors: PlateFormErrors = {
    ...(!isDrawing(asked.drawing) && { dxf: noDrawingText(asked.drawing) }),
    ...('errors' in facts && facts.errors),
    ...('wrong' in run && { [run.wrong]: PLATE_FORM_ERRORS.shots }),
    ...(polymer instanceof Refusal && { polymer: PLATE_FORM_ERRORS.polymer }),
    ...(all.every(({ id }) => id !== values.bolsterId) && { bolsterId: PLATE_FORM_ERRORS.bolster }),
    ...before,
  };
  const errorSummary = summaryOfPlateForm(errors);
  const summary = errorSummary === undefined ? {} : { errorSummary };
  const blocked = Object.keys(errors).some((field) => field !== 'name' && field !== 'note');
  if (blocked || drawing === undefined || 'errors' in facts || 'wrong' in run || polymer instanceof Refusal) {
    return { errors, ...summary, status: asked.drawing === 'too-large' ? 413 : 422 };
  }
  const wish = { dxf: drawing.bytes, facts, polymer, bolsterId: values.bolsterId, run };
  const done = await checkNow(house, wish, asker);
  if (done instanceof Refusal) return refusedCheck(done);
  const { refusal } = asked;
  if (refusal !== undefined)
    return { errors, errorSummary: summaryOfRefusal(refusal), status: refusal.status, done };
  return { errors, ...summary, status: 'errorSummary' in summary ? 422 : 200, done };
}

/** Why a drawing was not checked: every reason in the summary, the first of a cell at it; most are the drop zone's. */
function refusedCheck({ reasons, status }: Refusal): Checked {
  const items = reasons.map((reason) => {
    const { message, fix } = wordReason(reason);
    return { text: message, fix, field: formFieldOf(reason) ?? 'dxf' };
  });
  const errorSummary = { title: summaryTitle(items.length), items };
  const errors = Object.fromEntries([...items].reverse().map(({ field, text }) => [field, text]));
  return { errors, errorSummary, status };
}

function keepView(
  request: FastifyRequest,
  asked: CheckAsked,
  drawing: DrawingFile | undefined,
  { name: nameError, note: noteError }: PlateFormErrors,
): KeepView {
  const fromFile = drawing === undefined ? '' : nameOfFile(drawing.fileName);
  return {
    action: '/plates',
    name: asked.name ?? fromFile,
    note: asked.note ?? '',
    signedIn: request.actor !== undefined,
    ...(nameError !== undefined && { nameError }),
    ...(noteError !== undefined && { noteError }),
  };
}

function resultWords(done: CheckDone, drawing: DrawingFile | undefined, checkedAt: string): SheetWords {
  return {
    title: nameOfFile(drawing?.fileName ?? ''),
    kicker: CHECK_TITLE,
    firstAngle: true,
    titleBlock: checkTitleBlock(
      { facts: done.facts, bolster: done.ground.bolster, check: done.check },
      { sheet: { label: 'Sheet', value: 'Plate check, not kept' }, checkedAt },
    ),
  };
}
