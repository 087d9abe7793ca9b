import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import type { InductionPart } from './contents.js';
import { contentsOf } from './contents-of.js';
import { inductionOf, keepReading } from './store.js';

export interface PartAnswered {
  readonly competence: string;
  /** The version that was read: an answer to older contents is not one to these. */
  readonly version: number;
  /** Counting from 1. */
  readonly part: number;
  /** Place of the answer chosen, by the place of the question; null where none was. */
  readonly answers: readonly (number | null)[];
}

/** What became of the answers to one part. */
export interface PartOutcome {
  /** All questions are answered, and rightly. */
  readonly done: boolean;
  readonly questions: readonly AnsweredQuestion[];
}

export interface AnsweredQuestion {
  readonly asks: string;
  /** Null where nothing was chosen: the rest is kept, and this is what is missing. */
  readonly chosen: number | null;
  readonly right: boolean;
  /** What the answer chosen has to say for itself. */
  readonly why: string | null;
}

/**
 * Keeps a member's answers to one part, half of them too, and says what each has to say for itself. A part is done
 * once all of it was answered rightly; a part that asks nothing is done by having been read.
 */
export async function answerPart(
  { actor, now, tx }: Ctx,
  { competence, version, part, answers }: PartAnswered,
): Promise<PartOutcome | Refusal> {
  const induction = await inductionOf(tx, competence);
  const read = induction && contentsOf(induction).parts[part - 1];
  if (induction === undefined || read === undefined)
    return refuse('not-found', { figures: { what: 'part' } });
  const forbidden = refusalUnless(actor, 'induction-answer', { ownerId: actor.memberId });
  if (forbidden !== undefined) return forbidden;
  if (version !== induction.version) return refuse('changed-meanwhile');
  const wrong = answersNotThere(read, answers);
  if (wrong !== undefined) return wrong;
  const outcome = judge(read, answers);
  const kept = outcome.questions.map(({ chosen }) => chosen);
  await keepReading(
    tx,
    actor.memberId,
    { competence, version, part, answers: kept, done: outcome.done },
    now,
  );
  return outcome;
}

/** What answers are worth. */
export function judge({ questions }: InductionPart, answers: readonly (number | null)[]): PartOutcome {
  const judged = questions.map(({ asks, answers: offered }, i): AnsweredQuestion => {
    const chosen = answers[i] ?? null;
    const answer = chosen === null ? undefined : offered[chosen];
    return { asks, chosen, right: answer?.right === true, why: answer?.why ?? null };
  });
  return { done: judged.every(({ right }) => right), questions: judged };
}

function answersNotThere(
  { questions }: InductionPart,
  answers: readonly (number | null)[],
): Refusal | undefined {
  const fits = answers.every((chosen, i) => chosen === null || questions[i]?.answers[chosen] !== undefined);
  if (fits && answers.length <= questions.length) return undefined;
  return refuse('field-invalid', {
    field: 'answers',
    figures: { detail: 'one for each question of the part, each the place of one of its answers from 0 on' },
  });
}
