import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { pgFaultOf } from '../database/pg-fault.js';
import { type Listeners, tell } from '../listeners.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import type { Foreseen } from '../shop/foreseen.js';
import { insertMounting, setMounted } from './mounting-store.js';
import { type Bolster, bolsterById, bolsters } from './store.js';
import { pressHeld } from './version-store.js';

export interface MountingWanted {
  readonly bolsterId: string;
  readonly why: string;
  /** The bolster that was in the press when the change was looked at; null where none was. */
  readonly insteadOf: string | null;
}

/** The bolster that would go in, where it may; else every reason why not. Writes nothing. */
export async function proposeMounting(
  { actor, tx }: Pick<Ctx, 'actor'> & { readonly tx: Pick<Ctx['tx'], 'query'> },
  { bolsterId, insteadOf }: Omit<MountingWanted, 'why'>,
): Promise<Bolster | Refusal> {
  const forbidden = refusalUnless(actor, 'press-edit', {});
  if (forbidden !== undefined) return forbidden;
  const bolster = await bolsterById(tx, bolsterId);
  if (bolster === undefined) return refuse('not-found', { figures: { what: 'bolster' } });
  const mounted = (await bolsters(tx)).find((one) => one.mounted && one.pressId === bolster.pressId);
  if ((mounted?.id ?? null) !== insteadOf) return refuse('changed-meanwhile');
  if (bolster.mounted) return refuse('bolster-mounted-already', { figures: { name: bolster.name } });
  return bolster;
}

/**
 * Puts another bolster in the press: plates are checked against it from now on, and later rooms are told in the same
 * transaction.
 *
 * @returns its id, or every reason why not: no right, nothing of that id, in the press already, or another one went in
 * meanwhile
 */
export async function mountBolster(
  ctx: Ctx,
  wanted: MountingWanted,
  foreseen: Foreseen,
  listeners: Pick<Listeners, 'groundChanged'>,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  await pressHeld(tx);
  const bolster = await proposeMounting(ctx, wanted);
  if (bolster instanceof Refusal) return bolster;
  const { id, pressId, name } = bolster;
  const { why } = wanted;
  await setMounted(tx, id, pressId);
  const mounting = { pressId, bolsterId: id, why, mountedBy: actor.memberId, mountedAt: now };
  const running = await refusedWhileRun(insertMounting(tx, mounting));
  if (running instanceof Refusal) return running;
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'bolster-mounted',
    subjectKind: 'bolster',
    subjectId: id,
    details: { name, why },
  });
  const change = {
    pressId,
    bolsterId: id,
    change: 'mounted',
    foreseen,
    at: now,
    actorId: actor.memberId,
  } as const;
  await tell(listeners.groundChanged, tx, change);
  return id;
}

/** A bolster stays in while the press is run. */
async function refusedWhileRun<Result>(writing: Promise<Result>): Promise<Result | Refusal> {
  try {
    return await writing;
  } catch (error) {
    if (pgFaultOf(error)?.constraint === 'mounting_run_open') return refuse('press-run-open');
    throw error;
  }
}
