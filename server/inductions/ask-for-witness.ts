import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { memberHeld } from '../members/store.js';
import { notify } from '../notices/notify.js';
import { type Refusal, refuse } from '../reasons.js';
import { contentsOf } from './contents-of.js';
import { standingStewards } from './sign-off-store.js';
import { closeRequest, inductionOf, insertRequest, openRequest, readingsOf } from './store.js';

export interface WitnessWanted {
  readonly competence: string;
  /** When it would suit, for instance. */
  readonly note: string | null;
}

/** Asks the stewards for a witness, once every part of the present version is done. */
export async function askForWitness(
  { actor, now, tx }: Ctx,
  { competence, note }: WitnessWanted,
): Promise<string | Refusal> {
  const induction = await inductionOf(tx, competence);
  if (induction === undefined) return refuse('not-found', { figures: { what: 'induction' } });
  const { memberId } = actor;
  const forbidden = refusalUnless(actor, 'induction-answer', { ownerId: memberId });
  if (forbidden !== undefined) return forbidden;
  await memberHeld(tx, memberId);
  if ((await openRequest(tx, memberId, competence)) !== undefined) return refuse('witness-asked-already');
  const done = new Set(
    (await readingsOf(tx, memberId))
      .filter((read) => read.competence === competence && read.version === induction.version && read.done)
      .map(({ part }) => part),
  );
  const open = contentsOf(induction).parts.flatMap((_part, i) => (done.has(i + 1) ? [] : [i + 1]));
  if (open.length > 0) return refuse('induction-unfinished', { figures: { parts: open.join(', ') } });
  const { version, title } = induction;
  const id = await insertRequest(tx, { memberId, competence, version, note, at: now });
  await recordAudit(tx, {
    at: now,
    actorId: memberId,
    action: 'witness-asked',
    subjectKind: 'competence',
    subjectId: competence,
    details: { competence, title, version },
  });
  const stewards = (await standingStewards(tx, now)).filter((steward) => steward !== memberId);
  await notify(tx, {
    memberIds: stewards,
    kind: 'witness-wanted',
    aboutId: memberId,
    figures: { competence: title },
    href: `/inductions/witness/${id}`,
    at: now,
  });
  return id;
}

/** Takes the request back, to answer again or because it is not wanted any more. */
export async function withdrawRequest(
  { actor, now, tx }: Ctx,
  { competence }: Pick<WitnessWanted, 'competence'>,
): Promise<Refusal | undefined> {
  await memberHeld(tx, actor.memberId);
  const closed = await closeRequest(tx, actor.memberId, competence, 'withdrawn', now);
  return closed ? undefined : refuse('witness-not-asked');
}
