import type { Queryable } from '../database/queryable.js';

/** A sign-off as it was given. It stands from its signing until `validUntil`, unless it was ended before. */
export interface StandingSignOff {
  readonly id: string;
  readonly memberId: string;
  readonly competence: string;
  readonly version: number;
  readonly signedBy: string;
  readonly founding: boolean;
  readonly signedAt: Date;
  readonly validUntil: Date;
}

/** From when and through when a sign-off has to stand. */
export interface Stretch {
  readonly from: Date;
  readonly through: Date;
}

/**
 * The sign-off of a member for one thing that stands all through a stretch, as far as is known now: who is not
 * ended yet may still be. To decide by it, hold the member first (`memberHeld`): revoking waits for that.
 */
export async function standingSignOff(
  db: Queryable,
  memberId: string,
  competence: string,
  { from, through }: Stretch,
): Promise<StandingSignOff | undefined> {
  const [signOff] = await db.query<StandingSignOff>(
    `select s.id, s.member_id as "memberId", s.competence, s.version, s.signed_by as "signedBy", s.founding,
       s.signed_at as "signedAt", s.valid_until as "validUntil"
     from sign_off s
     where s.member_id = $1 and s.competence = $2 and s.signed_at <= $3 and s.valid_until > $3
       and s.valid_until >= $4 and not exists (select from sign_off_end e where e.sign_off_id = s.id)`,
    [memberId, competence, from, through],
  );
  return signOff;
}

/** Those of the competences for which no sign-off of the member stands until an instant, in their order. */
export async function missingCompetences(
  db: Queryable,
  memberId: string,
  competences: readonly string[],
  through: Date,
): Promise<readonly string[]> {
  const standing = await db.query<{ competence: string }>(
    `select s.competence from sign_off s
     where s.member_id = $1 and s.competence = any($2::text[]) and s.signed_at <= $3 and s.valid_until >= $3
       and not exists (select from sign_off_end e where e.sign_off_id = s.id)`,
    [memberId, competences, through],
  );
  const held = new Set(standing.map(({ competence }) => competence));
  return competences.filter((competence) => !held.has(competence));
}

/** True while the member may steward, as far as the sign-off goes; the role is asked elsewhere. */
export async function stewardsNow(db: Queryable, memberId: string, at: Date): Promise<boolean> {
  return (await standingSignOff(db, memberId, 'stewarding', { from: at, through: at })) !== undefined;
}
