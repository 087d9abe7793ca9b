import type { z } from 'zod';
import { contentsOf } from './contents-of.js';
import type { competenceReply, inductionReply, signOffReply, witnessReply } from './schemas.js';
import type { SignOff } from './sign-off-store.js';
import type { InductionVersion, Reading, WitnessRequest } from './store.js';

/** How a sign-off stands at an instant. */
export function stateOf({ endKind, validUntil }: SignOff, now: Date) {
  if (endKind !== null) return endKind;
  return validUntil <= now ? 'lapsed' : 'standing';
}

export function signOffView(signOff: SignOff, now: Date): z.output<typeof signOffReply> {
  const { endKind: _kind, title: _title, witnessed, ...rest } = signOff;
  return { ...rest, witnessed: [...witnessed], state: stateOf(signOff, now) };
}

/** Somebody's own way through the inductions. */
export interface OwnWay {
  readonly signOffs: readonly SignOff[];
  readonly readings: readonly Reading[];
  readonly requests: readonly WitnessRequest[];
}

/** The parts of a version that somebody has done, by their place from 1 on. */
export function partsDone(
  { competence, version }: Pick<InductionVersion, 'competence' | 'version'>,
  readings: readonly Reading[],
): ReadonlySet<number> {
  return new Set(
    readings
      .filter((read) => read.competence === competence && read.version === version && read.done)
      .map(({ part }) => part),
  );
}

export function competenceView(
  induction: InductionVersion,
  { signOffs, readings, requests }: OwnWay,
  now: Date,
): z.output<typeof competenceReply> {
  const { competence, title, version, refreshMonths } = induction;
  const standing = signOffs.find((own) => own.competence === competence && stateOf(own, now) === 'standing');
  const request = requests.find((own) => own.competence === competence);
  return {
    competence,
    title,
    version,
    refreshMonths,
    parts: contentsOf(induction).parts.length,
    partsDone: partsDone(induction, readings).size,
    witnessAskedAt: request?.askedAt ?? null,
    signOff: standing === undefined ? null : signOffView(standing, now),
  };
}

/** What an induction says, without telling which answers are right. */
export function inductionView(induction: InductionVersion): z.output<typeof inductionReply> {
  const { competence, title, version, refreshMonths, contents, createdAt } = induction;
  const { parts, practical } = contentsOf(induction);
  return {
    competence,
    title,
    version,
    refreshMonths,
    contents,
    createdAt,
    parts: parts.map((part, i) => ({
      part: i + 1,
      title: part.title,
      questions: part.questions.map(({ asks, answers }) => ({
        asks,
        answers: answers.map(({ text }) => text),
      })),
    })),
    checklist: [...practical.checklist],
  };
}

export function witnessView(request: WitnessRequest): z.output<typeof witnessReply> {
  const { id, memberId, displayName, competence, version, note, askedAt } = request;
  return { id, memberId, displayName, competence, version, note, askedAt };
}
