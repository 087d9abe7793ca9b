import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { accept, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { text } from '../http/text.js';
import { justDone, leadOn } from '../http/told-once.js';
import { may, mayAtAll } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView, NoticeView } from '../views.js';
import {
  dateText,
  endText,
  INDUCTION_FORM_ERRORS,
  monthsText,
  STANDING_WORDS,
  signedByText,
} from '../words/en/inductions.js';
import { askForWitness, withdrawRequest } from './ask-for-witness.js';
import { contentsOf } from './contents-of.js';
import { ownWay } from './own-way.js';
import { blockViews } from './part-view.js';
import { ruleOf } from './rule-view.js';
import { competenceName } from './schemas.js';
import { foundingOver, namesSignedOffForStewarding } from './sign-off-store.js';
import { standingOf } from './standing-view.js';
import { inductionOf, inductions, openRequests } from './store.js';
import { partsDone } from './views.js';

/** What there is to be signed off for, what one holds, what is missing. */
export async function showInductions(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  const { database, now, timeZone } = house;
  const [all, way, waiting, zone] = await Promise.all([
    inductions(database),
    ownWay(database, actor.memberId),
    openRequests(database),
    timeZone(),
  ]);
  const witnesses = mayAtAll(actor, 'induction-witness');
  const edits = mayAtAll(actor, 'induction-edit');
  return sendSheet(
    request,
    reply,
    house,
    'inductions/list',
    {
      title: 'Inductions',
      kicker: 'Who was shown how, by whom',
      current: 'inductions',
      titleBlock: [
        { label: 'Sheet', value: 'Inductions' },
        { label: 'Of', value: actor.displayName },
        { label: 'Drawn', value: dateText(now(), zone) },
      ],
    },
    {
      rows: all.map((induction) => {
        const { standing, signOff } = standingOf(induction, way, now());
        const parts = contentsOf(induction).parts.length;
        return {
          href: `/inductions/${induction.competence}`,
          title: induction.title,
          read: `${partsDone(induction, way.readings).size} of ${parts} parts`,
          ...STANDING_WORDS[standing],
          more: signOff === undefined ? '' : endText(signOff, now(), zone),
          ...(edits && { editHref: `/inductions/${induction.competence}/edit` }),
        };
      }),
      historyHref: `/inductions/history/${actor.memberId}`,
      edits,
      verifies: may(actor, 'sign-off-see', { ownerId: 'anybody' }),
      ...(edits && (await declarationsOpen(request, house))),
      ...(witnesses && {
        waiting: waiting.filter(({ memberId }) => memberId !== actor.memberId).length,
      }),
    },
  );
}

/** Which declaration without a witness is open to the one who asks: the founding one, or that of a house without stewards. */
async function declarationsOpen(request: FastifyRequest, { database, now }: House) {
  const actor = actorOf(request);
  if (!may(actor, 'sign-off-declare', { ownerId: actor.memberId })) return {};
  if (!(await foundingOver(database, actor.memberId))) return { declares: true };
  return { declaresAnew: (await namesSignedOffForStewarding(database, now())).length === 0 };
}

/** One induction: its parts, how one stands, and asking for a witness. */
export async function showInduction(request: FastifyRequest, reply: FastifyReply, house: House) {
  return sendInduction(request, reply, house, {});
}

const witnessForm = z.object({
  note: z
    .literal('')
    .transform(() => null)
    .or(text(500))
    .optional()
    .transform((given) => given ?? null),
});

/** Asks for a witness, or says what is still open. */
export async function postWitness(request: FastifyRequest, reply: FastifyReply, house: House) {
  const competence = competenceOf(request);
  const { given, value } = readForm(witnessForm, request.body);
  if (value === undefined) {
    const errors = { note: INDUCTION_FORM_ERRORS.note };
    return sendInduction(request, reply.code(422), house, {
      given,
      errors,
      errorSummary: summaryOfErrors(errors),
    });
  }
  const outcome = await transact(house.database, (tx) =>
    askForWitness({ actor: actorOf(request), now: house.now(), tx }, { competence, note: value.note }),
  );
  if (!(outcome instanceof Refusal))
    return leadOn(reply, house, actorOf(request), { what: 'asked', path: `/inductions/${competence}` });
  if (outcome.status === 404) accept(outcome);
  return sendInduction(request, reply.code(outcome.status), house, {
    given,
    errorSummary: summaryOfRefusal(outcome),
  });
}

export async function postWithdraw(request: FastifyRequest, reply: FastifyReply, house: House) {
  const competence = competenceOf(request);
  accept(
    await transact(house.database, (tx) =>
      withdrawRequest({ actor: actorOf(request), now: house.now(), tx }, { competence }),
    ),
  );
  return leadOn(reply, house, actorOf(request), { what: 'withdrawn', path: `/inductions/${competence}` });
}

interface Shown {
  readonly given?: { readonly [field: string]: string };
  readonly errors?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

const JUST_DONE: { readonly [just: string]: NoticeView } = {
  asked: {
    word: 'sent',
    text: 'The stewards know that you wait for a witness. You are told when you are signed off.',
  },
  withdrawn: { word: 'withdrawn', text: 'You do not wait for a witness any more.' },
};

async function sendInduction(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const actor = actorOf(request);
  const { database, now, timeZone } = house;
  const competence = competenceOf(request);
  const induction = await inductionOf(database, competence);
  if (induction === undefined) throw refused('not-found', { figures: { what: 'induction' } });
  const [way, zone] = await Promise.all([ownWay(database, actor.memberId), timeZone()]);
  const { title, version, refreshMonths, createdAt } = induction;
  const { parts, practical } = contentsOf(induction);
  const done = partsDone(induction, way.readings);
  const { standing, signOff } = standingOf(induction, way, now());
  const own = way.requests.find((one) => one.competence === competence);
  const just = justDone(request, reply, house) ?? '';
  const notice = Object.hasOwn(JUST_DONE, just) ? JUST_DONE[just] : undefined;
  const open = parts.flatMap((_part, i) => (done.has(i + 1) ? [] : [i + 1]));
  return sendSheet(
    request,
    reply,
    house,
    'inductions/induction',
    {
      title,
      kicker: 'Induction',
      current: 'inductions',
      titleBlock: [
        { label: 'Sheet', value: `Induction, ${title.toLowerCase()}` },
        { label: 'Contents', value: `version ${version}, from ${dateText(createdAt, zone)}` },
        { label: 'Valid for', value: `${monthsText(refreshMonths)} once signed off` },
      ],
      ...(notice && { notices: [notice] }),
      ...(shown.errorSummary && { errorSummary: shown.errorSummary }),
    },
    {
      competence,
      rule: ruleOf(induction, done, null),
      standing: STANDING_WORDS[standing],
      settled: standing === 'standing',
      ...(signOff && {
        signedOff: `${signedByText(signOff)}, on ${dateText(signOff.signedAt, zone)}, version ${signOff.version}; ${endText(signOff, now(), zone)}`,
      }),
      practical: blockViews(practical.blocks),
      checklist: practical.checklist,
      ...(own && { asked: dateText(own.askedAt, zone) }),
      ...(open[0] !== undefined && {
        open: {
          count: open.length,
          href: `/inductions/${competence}/${open[0]}`,
          part: open[0],
          begun: done.size > 0,
        },
      }),
      note: shown.given?.note ?? '',
      errors: shown.errors ?? {},
    },
  );
}

function competenceOf(request: FastifyRequest): string {
  const parsed = competenceName.safeParse((request.params as { competence?: unknown }).competence);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'induction' } });
  return parsed.data;
}
