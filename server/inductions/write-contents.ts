import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Reason, Refusal, refuse } from '../reasons.js';
import { CONTENTS_FAULTS } from '../words/en/inductions.js';
import { readContents } from './read-contents.js';
import { competenceHeld, inductionOf, insertCompetence, insertVersion } from './store.js';

export interface ContentsWanted {
  readonly competence: string;
  readonly title: string;
  readonly refreshMonths: number;
  /** Markdown; see `readContents`. */
  readonly contents: string;
}

/** Adds a competence with its first contents. */
export async function addCompetence(ctx: Ctx, wanted: ContentsWanted): Promise<number | Refusal> {
  const { actor, now, tx } = ctx;
  const forbidden = refusalUnless(actor, 'induction-edit', {});
  if (forbidden !== undefined) return forbidden;
  const faults = contentsRefusal(wanted.contents);
  if (faults !== undefined) return faults;
  const added = await insertCompetence(tx, { ...wanted, writtenBy: actor.memberId, at: now });
  if (!added) return refuse('competence-taken', { field: 'competence' });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'competence-added',
    subjectKind: 'competence',
    subjectId: wanted.competence,
    details: { competence: wanted.competence, title: wanted.title, refreshMonths: wanted.refreshMonths },
  });
  return 1;
}

/**
 * Writes the next version of an induction. Sign-offs that stand keep the version and the interval they were given
 * with; readings of the old version count no more.
 *
 * @param basedOn the version that the writer had before them: nobody writes over another unseen
 */
export async function writeContents(
  ctx: Ctx,
  wanted: ContentsWanted,
  basedOn: number,
): Promise<number | Refusal> {
  const { actor, now, tx } = ctx;
  const { competence } = wanted;
  if (!(await competenceHeld(tx, competence)))
    return refuse('not-found', { figures: { what: 'competence' } });
  const forbidden = refusalUnless(actor, 'induction-edit', {});
  if (forbidden !== undefined) return forbidden;
  const faults = contentsRefusal(wanted.contents);
  if (faults !== undefined) return faults;
  const latest = await inductionOf(tx, competence);
  if (latest?.version !== basedOn) return refuse('changed-meanwhile', { field: 'contents' });
  if (isSame(latest, wanted)) return refuse('contents-unchanged', { field: 'contents' });
  const version = await insertVersion(tx, { ...wanted, writtenBy: actor.memberId, at: now });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'induction-written',
    subjectKind: 'competence',
    subjectId: competence,
    details: { competence, title: wanted.title, version, refreshMonths: wanted.refreshMonths },
  });
  return version;
}

/** A version that says the same would only undo what members have read and answered. */
function isSame(latest: ContentsWanted, { title, refreshMonths, contents }: ContentsWanted): boolean {
  return latest.title === title && latest.refreshMonths === refreshMonths && latest.contents === contents;
}

/** Everything that keeps a text from being an induction, each with its line. */
export function contentsRefusal(contents: string): Refusal | undefined {
  const read = readContents(contents);
  if ('parts' in read) return undefined;
  const [first, ...others] = read.map(
    ({ code, line, about }): Reason => ({
      code: 'contents-not-readable',
      field: 'contents',
      figures: {
        line,
        detail: `${CONTENTS_FAULTS[code]}${about === undefined || about === '' ? '' : ` (“${about}”)`}`,
      },
    }),
  );
  return first && new Refusal([first, ...others.slice(0, FAULTS_TOLD_MAX)]);
}

/** A text that is wrong all over is not told so a thousand times. */
const FAULTS_TOLD_MAX = 19;
