import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';

/** A bolster that went into the press. */
export interface Mounting {
  readonly bolster: string;
  readonly why: string;
  readonly mountedBy: string;
  readonly mountedAt: Date;
}

/** What went into a press, the last first; what was in it at the founding is not among them. */
export async function mountings(db: Queryable, pressId: string): Promise<readonly Mounting[]> {
  return await db.query<Mounting>(
    `select b.name as bolster, n.why, m.display_name as "mountedBy", n.mounted_at as "mountedAt"
     from mounting n join bolster b on b.id = n.bolster_id join member m on m.id = n.mounted_by
     where n.press_id = $1 order by n.mounted_at desc, n.id desc limit 50`,
    [pressId],
  );
}

/** Takes out what is in the press and puts this bolster in. */
export async function setMounted(tx: Tx, bolsterId: string, pressId: string): Promise<void> {
  await tx.query('update bolster set mounted = false where press_id = $1 and mounted', [pressId]);
  await tx.query('update bolster set mounted = true where id = $1', [bolsterId]);
}

export async function insertMounting(
  tx: Tx,
  given: {
    readonly pressId: string;
    readonly bolsterId: string;
    readonly why: string;
    readonly mountedBy: string;
    readonly mountedAt: Date;
  },
): Promise<void> {
  await tx.query(
    'insert into mounting (press_id, bolster_id, why, mounted_by, mounted_at) values ($1, $2, $3, $4, $5)',
    [given.pressId, given.bolsterId, given.why, given.mountedBy, given.mountedAt],
  );
}
