import type { Queryable } from '../../database/queryable.js';
import type { Tx } from '../../database/transaction.js';

/** One inspection of a press, as it was recorded. */
export interface Inspection {
  readonly id: string;
  /** Calendar day on the shop's own calendar, `2026-11-25`. */
  readonly inspectedOn: string;
  readonly inspectedBy: string;
  readonly intervalMonths: number;
  /** The first instant at which the next one is overdue. */
  readonly dueAt: Date;
  readonly note: string;
  readonly recordedBy: string;
  readonly recordedAt: Date;
}

/** Whether the press may be run as far as its inspection goes. */
export interface InspectionDue {
  /** When the next is due: from this instant on it is overdue. Null while none was ever recorded. */
  readonly dueAt: Date | null;
  /** True where one was recorded and the next was due before. */
  readonly overdue: boolean;
}

const INSPECTION = `select i.id, to_char(i.inspected_on, 'YYYY-MM-DD') as "inspectedOn",
  i.inspected_by as "inspectedBy", i.interval_months as "intervalMonths", i.due_at as "dueAt", i.note,
  m.display_name as "recordedBy", i.recorded_at as "recordedAt"
  from inspection i join member m on m.id = i.recorded_by`;

const LAST_FIRST = 'order by i.recorded_at desc, i.inspected_on desc, i.id desc';

/** Inspections of a press, the last recorded first: that one says when the next is due. */
export async function inspections(db: Queryable, pressId: string): Promise<readonly Inspection[]> {
  return await db.query<Inspection>(`${INSPECTION} where i.press_id = $1 ${LAST_FIRST} limit 100`, [pressId]);
}

export async function inspectionById(db: Queryable, id: string): Promise<Inspection | undefined> {
  const [inspection] = await db.query<Inspection>(`${INSPECTION} where i.id = $1`, [id]);
  return inspection;
}

/** Whether a press is overdue for inspection at an instant, by what is recorded now. */
export async function inspectionDue(db: Queryable, pressId: string, at: Date): Promise<InspectionDue> {
  const [last] = await db.query<{ dueAt: Date }>(
    `select i.due_at as "dueAt" from inspection i where i.press_id = $1 ${LAST_FIRST} limit 1`,
    [pressId],
  );
  const dueAt = last?.dueAt ?? null;
  return { dueAt, overdue: dueAt !== null && dueAt <= at };
}

export async function insertInspection(
  tx: Tx,
  given: {
    readonly pressId: string;
    readonly inspectedOn: string;
    readonly inspectedBy: string;
    readonly intervalMonths: number;
    readonly dueAt: Date;
    readonly note: string;
    readonly recordedBy: string;
    readonly recordedAt: Date;
  },
): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into inspection (press_id, inspected_on, inspected_by, interval_months, due_at, note, recorded_by,
       recorded_at) values ($1, $2, $3, $4, $5, $6, $7, $8) returning id`,
    [
      given.pressId,
      given.inspectedOn,
      given.inspectedBy,
      given.intervalMonths,
      given.dueAt,
      given.note,
      given.recordedBy,
      given.recordedAt,
    ],
  );
  if (row === undefined) throw new Error('An inspection came back without an id.');
  return row.id;
}
