import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import type { Actor } from '../../context.js';
import { actorOf } from '../../http/acting.js';
import { accept, Refused } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { leadOn } from '../../http/told-once.js';
import { refusalUnless } from '../../members/permissions.js';
import { Refusal } from '../../reasons.js';
import { rulesAt } from '../../shop/store.js';
import type { NoticeView } from '../../views.js';
import { PLATE_FORM_ERRORS, SEVERAL_WORDS } from '../../words/en/plates.js';
import { wordReason } from '../../words/en/reasons.js';
import { checkForm } from '../check-page-form.js';
import type { CheckingHouse } from '../checking-house.js';
import { keepPlate } from '../keep.js';
import {
  carriedWith,
  factsOfForm,
  fieldsOf,
  formValues,
  type PlateFormErrors,
  summaryOfPlateForm,
} from '../plate-form.js';
import { polymerNamed } from '../polymer-named.js';
import { noteOfForm, plateName } from '../schemas.js';
import { readSeveral, type SeveralRead } from './read-several.js';
import { DRAWINGS_MAX, type SeveralDrawing, severalDrawings, takesDrawings } from './several-drawings.js';

/** Several drawings at once: read and checked together, kept one by one or all. */
export const submissionPages: FastifyPluginAsync<CheckingHouse> = async (pages, house) => {
  pages.get('/plates/submit', (request, reply) => sendSubmission(request, reply, house, {}));
  pages.post('/plates/submit', { config: takesDrawings }, (request, reply) =>
    postSubmission(request, reply, house),
  );
};

interface Kept {
  readonly name: string;
  readonly href: string;
}

async function postSubmission(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const { drawings, tooMany } = await severalDrawings(request);
  const values = formValues(request.body, '');
  const facts = factsOfForm(values);
  const polymer = accept(polymerNamed(values.polymer));
  const errors: PlateFormErrors = {
    ...('errors' in facts && facts.errors),
    ...(drawings.length === 0 && { dxf: SEVERAL_WORDS.none }),
  };
  if ('errors' in facts || drawings.length === 0) {
    const unread = drawings.map((one) => ({ ...one, report: null, problems: [], same: null }));
    return sendSubmission(request, reply.code(422), house, { drawings: unread, errors });
  }
  const read = await readSeveral(house, actor, drawings, { facts, polymer });
  const wanted = wantedOf(read, fieldsOf(request.body).keep);
  const { kept, left } = await keepWanted(house, actor, read, wanted, facts);
  if (kept.length > 0 && left.length === 0) {
    return leadOn(reply, house, actor, { what: 'kept-several', path: '/plates' });
  }
  return sendSubmission(request, reply, house, { drawings: left, kept, tooMany });
}

/** Which of them a button asks for: one by its number, or all that can be read and are not there yet. */
function wantedOf(read: readonly SeveralRead[], keep: string | undefined): ReadonlySet<SeveralRead> {
  if (keep === 'all') return new Set(read.filter(({ report, same }) => report !== null && same === null));
  const one = read[Number(keep ?? -1)];
  return new Set(one === undefined ? [] : [one]);
}

async function keepWanted(
  house: CheckingHouse,
  actor: Actor,
  read: readonly SeveralRead[],
  wanted: ReadonlySet<SeveralRead>,
  facts: Parameters<typeof keepPlate>[2]['facts'],
): Promise<{ readonly kept: readonly Kept[]; readonly left: readonly SeveralRead[] }> {
  const kept: Kept[] = [];
  const left: SeveralRead[] = [];
  for (const one of read) {
    const name = plateName.safeParse(one.name);
    const note = noteOfForm.safeParse(one.note.trim());
    if (!wanted.has(one) || one.drawing === null || one.report === null) left.push(one);
    else if (!name.success) left.push({ ...one, problems: [{ text: SEVERAL_WORDS.name }] });
    else if (!note.success) left.push({ ...one, problems: [{ text: PLATE_FORM_ERRORS.note }] });
    else {
      const wish = { name: name.data, note: note.data, drawing: one.drawing, facts, once: true, read: true };
      const outcome = await keepPlate(house, actor, wish);
      if (outcome instanceof Refusal) left.push({ ...one, problems: outcome.reasons.map(problemOf) });
      else kept.push({ name: outcome.name, href: `/plates/${outcome.id}` });
    }
  }
  return { kept, left };
}

function problemOf(reason: Refusal['reasons'][number]) {
  const { message, fix } = wordReason(reason);
  return { text: message, fix };
}

interface Shown {
  readonly drawings?: readonly SeveralRead[];
  readonly kept?: readonly Kept[];
  readonly tooMany?: boolean;
  readonly errors?: PlateFormErrors;
}

async function sendSubmission(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  { drawings = [], kept = [], tooMany = false, errors = {} }: Shown,
): Promise<FastifyReply> {
  const forbidden = refusalUnless(actorOf(request), 'plate-submit', {});
  if (forbidden !== undefined) throw new Refused(forbidden);
  const rules = await rulesAt(house.database, house.now());
  const values = formValues(request.body, '');
  const form = checkForm({ values, bolsters: [], errors, read: null, drawing: '', fileName: '' });
  const errorSummary = summaryOfPlateForm(errors);
  const notices: NoticeView[] = [
    ...kept.map(({ name, href }) => ({
      word: 'kept',
      strong: name,
      text: '',
      link: { href, text: 'See it' },
    })),
    ...(tooMany ? [{ verdict: 'caution' as const, text: SEVERAL_WORDS.tooMany(DRAWINGS_MAX) }] : []),
  ];
  return sendSheet(
    request,
    reply,
    house,
    'plates/submit',
    {
      title: 'Several drawings at once',
      kicker: 'Before cutting metal',
      current: 'plates',
      place: rules.makerspaceName,
      notices,
      ...(errorSummary && { errorSummary }),
    },
    {
      cells: form.cells.filter(({ name }) => name !== 'bolsterId'),
      drawingError: errors.dxf,
      drawings: await Promise.all(drawings.map(drawingRow)),
      keepable: drawings.filter(({ report, same }) => report !== null && same === null).length,
      most: DRAWINGS_MAX,
    },
  );
}

async function drawingRow(read: SeveralRead, index: number) {
  const { report, name, note, fileName, problems, same } = read;
  const { drawing } = await carriedWith(drawingOf(read));
  return {
    index,
    name,
    note,
    fileName,
    drawing,
    problems,
    ...(same !== null && { same }),
    ...(report !== null && {
      verdict: report.verdict,
      size: `${report.drawing.widthMm} × ${report.drawing.heightMm} mm`,
      notClear: report.findings
        .filter(({ verdict }) => verdict !== 'clear')
        .map((finding) => ({ verdict: finding.verdict, text: `${finding.name}: ${finding.summary}` })),
    }),
  };
}

function drawingOf({ drawing }: SeveralDrawing) {
  return drawing ?? undefined;
}
