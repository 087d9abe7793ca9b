import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { Refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { FOUNDING_STATEMENT, INDUCTION_FORM_ERRORS as WRONG } from '../words/en/inductions.js';
import { declareFounding } from './declare-founding.js';
import { inductions } from './store.js';

/** The founding declaration: the first sign-offs of a house, that nobody could have witnessed. */
export async function showDeclaration(request: FastifyRequest, reply: FastifyReply, house: House) {
  return sendDeclaration(request, reply, house, { ticked: new Set(), declared: false });
}

export async function postDeclaration(request: FastifyRequest, reply: FastifyReply, house: House) {
  const all = await inductions(house.database);
  const fields = (request.body ?? {}) as Record<string, unknown>;
  const ticked = new Set(
    all.map(({ competence }) => competence).filter((name) => fields[`for-${name}`] === 'on'),
  );
  const declared = fields.declared === 'on';
  const errors = {
    ...(ticked.size === 0 && { [`for-${all[0]?.competence}`]: WRONG.competences }),
    ...(!declared && { declared: WRONG.eighteenOwn }),
  };
  if (Object.keys(errors).length > 0) {
    const errorSummary = summaryOfErrors(errors);
    return sendDeclaration(request, reply.code(422), house, { ticked, declared, errorSummary });
  }
  const outcome = await transact(house.database, (tx) =>
    declareFounding(
      { actor: actorOf(request), now: house.now(), tx },
      { competences: [...ticked], note: FOUNDING_STATEMENT, eighteenOrOlder: declared },
    ),
  );
  if (!(outcome instanceof Refusal)) return reply.redirect('/inductions', 303);
  const errorSummary = summaryOfRefusal(outcome);
  return sendDeclaration(request, reply.code(outcome.status), house, { ticked, declared, errorSummary });
}

interface Shown {
  readonly ticked: ReadonlySet<string>;
  readonly declared: boolean;
  readonly errorSummary?: ErrorSummaryView;
}

async function sendDeclaration(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const actor = actorOf(request);
  const forbidden = refusalUnless(actor, 'sign-off-declare', { ownerId: actor.memberId });
  if (forbidden !== undefined) throw new Refused(forbidden);
  const all = await inductions(house.database);
  return sendSheet(
    request,
    reply,
    house,
    'inductions/declaration',
    {
      title: 'Founding declaration',
      kicker: 'Inductions',
      current: 'inductions',
      ...(shown.errorSummary && { errorSummary: shown.errorSummary }),
    },
    {
      items: all.map(({ competence, title }) => ({
        id: `for-${competence}`,
        name: `for-${competence}`,
        value: 'on',
        text: title,
        checked: shown.ticked.has(competence),
      })),
      statement: [
        { id: 'declared', name: 'declared', value: 'on', text: FOUNDING_STATEMENT, checked: shown.declared },
      ],
    },
  );
}
