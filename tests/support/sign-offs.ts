import type { Queryable } from '../../server/database/queryable.js';
import { layFirstContents } from '../../server/inductions/first-contents.js';

const LONG_AGO = new Date('2020-01-01T00:00:00Z');
/** After any instant a test uses. */
const NEVER_LAPSES = new Date('9999-12-31T23:59:59Z');

/** What a member needs to book the press. */
export const TO_BOOK = ['press-operation', 'plate-change'] as const;

/** Signs a member off, long ago and for ever, by a steward who has left since. */
export async function giveSignOffs(
  db: Queryable,
  memberId: string,
  competences: readonly string[] = TO_BOOK,
): Promise<void> {
  await layFirstContents(db, LONG_AGO);
  const [witness] = await db.query<{ id: string }>(
    `insert into member (display_name, role, state, left_at, created_at)
     values ('Somebody who left', 'steward', 'left', $1, $1) returning id`,
    [LONG_AGO],
  );
  for (const competence of competences) {
    await db.query(
      `insert into sign_off (member_id, competence, version, signed_by, eighteen_or_older, signed_at, valid_until)
       values ($1, $2, 1, $3, true, $4, $5)`,
      [memberId, competence, witness?.id ?? '', LONG_AGO, NEVER_LAPSES],
    );
  }
}
