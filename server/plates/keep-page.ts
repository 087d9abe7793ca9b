import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Actor } from '../context.js';
import { askerOf } from '../http/asker.js';
import { summaryOfRefusal } from '../http/form.js';
import { tellRetryAfter } from '../http/problem.js';
import { addressOf } from '../http/rate-limit.js';
import { accept } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { leadOn } from '../http/told-once.js';
import { keepSignedIn } from '../members/keep-signed-in.js';
import { signIn } from '../members/sign-in.js';
import { mountedBolster } from '../press/store.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { PLATE_FORM_ERRORS } from '../words/en/plates.js';
import type { CheckFormValues } from './check-page-form.js';
import { type CheckAsked, sendCheck } from './check-sheet.js';
import type { CheckingHouse } from './checking-house.js';
import { keepPlate, unreadable } from './keep.js';
import { carriedWith, drawingOfForm, factsOfForm, fieldsOf, formValues, isDrawing } from './plate-form.js';
import { noteOfForm, plateName } from './schemas.js';
import type { PlateSubmitted } from './submit-plate.js';

interface KeepAsked {
  readonly values: CheckFormValues;
  readonly keep: PlateSubmitted;
}

/** What the check page's form gives to keep, or what is wrong with it. */
async function askedToKeep(request: FastifyRequest, house: CheckingHouse) {
  const mounted = (await mountedBolster(house.database))?.id ?? '';
  const values = formValues(request.body, mounted);
  const drawing = await drawingOfForm(request);
  const facts = factsOfForm(values);
  const given = fieldsOf(request.body).name ?? '';
  const name = plateName.safeParse(given);
  const givenNote = fieldsOf(request.body).note ?? '';
  const note = noteOfForm.safeParse(givenNote.trim());
  const wrong: CheckAsked = {
    values,
    drawing,
    name: given,
    note: givenNote,
    errors: {
      ...(!name.success && { name: PLATE_FORM_ERRORS.name }),
      ...(!note.success && { note: PLATE_FORM_ERRORS.note }),
    },
  };
  if (!name.success || !note.success || !isDrawing(drawing) || 'errors' in facts) return { wrong };
  return { keep: { name: name.data, note: note.data, drawing, facts }, values, wrong };
}

/** Keeps the plate of the check page; who is not signed in is asked to, with nothing lost. */
export async function postPlate(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
): Promise<FastifyReply> {
  const asked = await askedToKeep(request, house);
  if (asked.keep === undefined) return sendCheck(request, reply, house, asked.wrong);
  const { actor } = request;
  if (actor === undefined) {
    const refusal = await unreadable(house, asked.keep, askerOf(request));
    if (refusal !== undefined) return sendCheck(request, reply, house, { ...asked.wrong, refusal });
    return sendSignIn(request, reply, house, asked, {});
  }
  const kept = await keepPlate(house, actor, { ...asked.keep, once: true });
  if (kept instanceof Refusal) return sendCheck(request, reply, house, { ...asked.wrong, refusal: kept });
  return leadOn(reply, house, actor, { what: 'kept', path: `/plates/${kept.id}` });
}

/** Signs in with what the form asks and keeps the plate it carries, which is read before: nobody signs in to lose it. */
export async function postSignInAndKeep(
  app: FastifyInstance,
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
): Promise<FastifyReply> {
  const asked = await askedToKeep(request, house);
  if (asked.keep === undefined) return sendCheck(request, reply, house, asked.wrong);
  const refusal = await unreadable(house, asked.keep, askerOf(request));
  if (refusal !== undefined) return sendCheck(request, reply, house, { ...asked.wrong, refusal });
  const { email = '', password = '' } = fieldsOf(request.body);
  const outcome = await signIn(app, house, { email, password, address: addressOf(request) });
  if (outcome instanceof Refusal) {
    tellRetryAfter(reply, outcome);
    const errorSummary = summaryOfRefusal(outcome);
    return sendSignIn(request, reply.code(outcome.status), house, asked, { email, errorSummary });
  }
  const { member } = outcome;
  const actor: Actor = {
    memberId: member.id,
    displayName: member.displayName,
    role: member.role,
    stewards: false,
    sessionIdHash: '',
  };
  const kept = accept(await keepPlate(house, actor, { ...asked.keep, once: true, read: true }));
  return leadOn(keepSignedIn(reply, house, outcome), house, actor, {
    what: 'kept',
    path: `/plates/${kept.id}`,
  });
}

async function sendSignIn(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  { values, keep: { name, note, drawing } }: Pick<KeepAsked, 'values' | 'keep'>,
  shown: { readonly email?: string; readonly errorSummary?: ErrorSummaryView },
): Promise<FastifyReply> {
  const carried = {
    ...values,
    name,
    note: note ?? '',
    ...(await carriedWith(drawing)),
  };
  const { email = '', errorSummary } = shown;
  return sendSheet(
    request,
    reply,
    house,
    'plates/sign-in-and-keep',
    { title: 'Sign in and keep this plate', current: 'check', ...(errorSummary && { errorSummary }) },
    {
      carried: Object.entries(carried).map(([field, value]) => ({ field, value })),
      carriesDrawing: carried.drawing !== '',
      name,
      email,
    },
  );
}
