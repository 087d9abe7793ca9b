import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Actor } from '../context.js';
import { summaryOfRefusal } from '../http/form.js';
import { tellRetryAfter } from '../http/problem.js';
import { addressOf } from '../http/rate-limit.js';
import { sendSheet } from '../http/sheet.js';
import { keepSignedIn } from '../members/keep-signed-in.js';
import { signIn } from '../members/sign-in.js';
import { mountedBolster } from '../press/store.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { PLATE_FORM_ERRORS } from '../words/en/plates.js';
import { type CheckAsked, sendCheck } from './check-sheet.js';
import type { CheckingHouse } from './checking-house.js';
import { keepPlate } from './keep.js';
import { drawingOfForm, factsOfForm, fieldsOf, formValues, packed } from './plate-form.js';
import { plateName } from './schemas.js';

/** What the check page's form gives to keep, or what is wrong with it. */
async function askedToKeep(request: FastifyRequest, house: CheckingHouse) {
  const mounted = (await mountedBolster(house.database))?.id ?? '';
  const values = formValues(request.body, mounted);
  const drawing = await drawingOfForm(request);
  const facts = factsOfForm(values);
  const given = fieldsOf(request.body).name ?? '';
  const name = plateName.safeParse(given);
  const wrong: CheckAsked = {
    values,
    drawing,
    name: given,
    errors: name.success ? {} : { name: PLATE_FORM_ERRORS.name },
  };
  if (!name.success || drawing === undefined || 'errors' in facts) return { wrong };
  return { keep: { name: name.data, drawing, facts }, values, wrong };
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
  if (actor === undefined) return sendSignIn(request, reply, house, asked.wrong, {});
  const kept = await keepPlate(house, actor, asked.keep);
  if (kept instanceof Refusal) return sendCheck(request, reply, house, asked.wrong);
  return reply.redirect(`/plates/${kept.id}?just=kept`, 303);
}

/** Signs in with what the form asks and keeps the plate it carries. */
export async function postSignInAndKeep(
  app: FastifyInstance,
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
): Promise<FastifyReply> {
  const asked = await askedToKeep(request, house);
  if (asked.keep === undefined) return sendCheck(request, reply, house, asked.wrong);
  const { email = '', password = '' } = fieldsOf(request.body);
  const outcome = await signIn(app, house, { email, password, address: addressOf(request) });
  if (outcome instanceof Refusal) {
    tellRetryAfter(reply, outcome);
    const errorSummary = summaryOfRefusal(outcome);
    return sendSignIn(request, reply.code(outcome.status), house, asked.wrong, { email, errorSummary });
  }
  const { member } = outcome;
  const actor: Actor = {
    memberId: member.id,
    displayName: member.displayName,
    role: member.role,
    stewards: false,
    sessionIdHash: '',
  };
  const kept = await keepPlate(house, actor, asked.keep);
  const next = kept instanceof Refusal ? '/plates' : `/plates/${kept.id}?just=kept`;
  return keepSignedIn(reply, house, outcome).redirect(next, 303);
}

async function sendSignIn(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  { values, drawing, name = '' }: CheckAsked,
  shown: { readonly email?: string; readonly errorSummary?: ErrorSummaryView },
): Promise<FastifyReply> {
  const carried = {
    ...values,
    name,
    fileName: drawing?.fileName ?? '',
    drawing: drawing === undefined ? '' : await packed(drawing.bytes),
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
