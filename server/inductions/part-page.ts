import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { summaryOfErrors } from '../http/form.js';
import type { House } from '../http/house.js';
import { accept, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import type { ErrorSummaryView } from '../views.js';
import { dateText, INDUCTION_FORM_ERRORS, monthsText } from '../words/en/inductions.js';
import { answerPart, judge } from './answer-part.js';
import { contentsOf } from './contents-of.js';
import { blockViews, questionViews } from './part-view.js';
import { ruleOf } from './rule-view.js';
import { competenceName } from './schemas.js';
import { type InductionVersion, inductionOf, readingsOf } from './store.js';
import { partsDone } from './views.js';

/** One part of an induction: its text, drawings, cautions, and the questions about it. */
export async function showPart(request: FastifyRequest, reply: FastifyReply, house: House) {
  const { induction, part } = await partAsked(request, house);
  const readings = await readingsOf(house.database, actorOf(request).memberId);
  const own = readings.find(
    (read) =>
      read.competence === induction.competence && read.version === induction.version && read.part === part,
  );
  return sendPart(request, reply, house, { induction, part, answers: own?.answers ?? null });
}

/** Keeps the answers, half of them too, and says what is missing or why one is wrong. */
export async function postPart(request: FastifyRequest, reply: FastifyReply, house: House) {
  const { induction, part } = await partAsked(request, house);
  const { competence } = induction;
  const answers = answersOf(request.body, contentsOf(induction).parts[part - 1]?.questions.length ?? 0);
  const given = { competence, version: versionOf(request.body), part, answers };
  const outcome = accept(
    await transact(house.database, (tx) =>
      answerPart({ actor: actorOf(request), now: house.now(), tx }, given),
    ),
  );
  const missing = outcome.questions.some(({ chosen }) => chosen === null);
  if (missing) return sendPart(request, reply.code(422), house, { induction, part, answers, complain: true });
  const parts = contentsOf(induction).parts.length;
  if (outcome.done && outcome.questions.length === 0) {
    const next = part < parts ? `/${part + 1}` : '';
    return reply.redirect(`/inductions/${competence}${next}`, 303);
  }
  return reply.redirect(`/inductions/${competence}/${part}#answered`, 303);
}

interface PartShown {
  readonly induction: InductionVersion;
  readonly part: number;
  /** Chosen so far; null before anything was answered. */
  readonly answers: readonly (number | null)[] | null;
  readonly complain?: boolean;
}

async function sendPart(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  { induction, part, answers, complain = false }: PartShown,
): Promise<FastifyReply> {
  const actor = actorOf(request);
  const { database, now, timeZone } = house;
  const { competence, title, version, refreshMonths, createdAt } = induction;
  const { parts } = contentsOf(induction);
  const read = parts[part - 1];
  if (read === undefined) throw refused('not-found', { figures: { what: 'part' } });
  const done = partsDone(induction, await readingsOf(database, actor.memberId));
  const outcome = answers === null ? null : judge(read, answers);
  const zone = await timeZone();
  const errorSummary: ErrorSummaryView | undefined = complain ? missingSummary(outcome) : undefined;
  return sendSheet(
    request,
    reply,
    house,
    'inductions/part',
    {
      title: read.title,
      kicker: `Induction: ${title}, part ${part} of ${parts.length}`,
      current: 'inductions',
      titleBlock: [
        { label: 'Sheet', value: `Induction, ${title.toLowerCase()}, ${part} of ${parts.length}` },
        { label: 'Contents', value: `version ${version}, from ${dateText(createdAt, zone)}` },
        { label: 'Read by', value: `${actor.displayName}, ${dateText(now(), zone)}` },
        { label: 'Valid for', value: `${monthsText(refreshMonths)} once signed off` },
      ],
      ...(errorSummary && { errorSummary }),
    },
    {
      action: `/inductions/${competence}/${part}`,
      version,
      rule: ruleOf(induction, done, part),
      blocks: blockViews(read.blocks),
      questions: questionViews(read, answers ?? [], outcome),
      asks: read.questions.length > 0,
      done: done.has(part),
      answered: outcome !== null && !complain,
      ...(part > 1 && {
        before: {
          href: `/inductions/${competence}/${part - 1}`,
          text: `Part ${part - 1}, ${parts[part - 2]?.title}`,
        },
      }),
      next:
        part < parts.length
          ? { href: `/inductions/${competence}/${part + 1}`, text: `Part ${part + 1}, ${parts[part]?.title}` }
          : { href: `/inductions/${competence}`, text: 'All parts and the witness' },
    },
  );
}

function missingSummary(outcome: ReturnType<typeof judge> | null): ErrorSummaryView {
  const errors = Object.fromEntries(
    (outcome?.questions ?? []).flatMap(({ chosen }, i) =>
      chosen === null ? [[`q${i}-0`, INDUCTION_FORM_ERRORS.question(i + 1)]] : [],
    ),
  );
  return summaryOfErrors(errors);
}

async function partAsked(request: FastifyRequest, house: House) {
  const { competence, part } = request.params as { competence: string; part: string };
  const name = competenceName.safeParse(competence);
  const number = /^[1-9]\d?$/.test(part) ? Number(part) : 0;
  const induction = name.success ? await inductionOf(house.database, name.data) : undefined;
  if (induction === undefined || contentsOf(induction).parts[number - 1] === undefined) {
    throw refused('not-found', { figures: { what: 'part' } });
  }
  return { induction, part: number };
}

/** What was chosen, question by question; anything that is no place of an answer is as if nothing was. */
function answersOf(body: unknown, questions: number): readonly (number | null)[] {
  const fields = (typeof body === 'object' && body !== null ? body : {}) as Record<string, unknown>;
  return Array.from({ length: questions }, (_, i) => {
    const chosen = fields[`q${i}`];
    return typeof chosen === 'string' && /^\d$/.test(chosen) ? Number(chosen) : null;
  });
}

/** The version that the reader had before them. */
function versionOf(body: unknown): number {
  const given = (body as { version?: unknown } | null)?.version;
  return typeof given === 'string' && /^\d{1,6}$/.test(given) ? Number(given) : 0;
}
