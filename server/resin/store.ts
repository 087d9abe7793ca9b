import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import {
  GRADE_FIGURES,
  type Grade,
  type GradeFigure,
  type GradeFigures,
} from '../engineering/polymers/grade.js';

/** What of a grade its data sheet says, in one version. */
export type GradeSheet = Omit<Grade, 'polymer' | 'isPostConsumer'> & {
  /** Of recyclate: how it was washed, what metal and labels it may hold, which batch; else anything. */
  readonly note: string;
};

/** A grade of the house in one version, the latest unless it was asked for by number. */
export interface KeptGrade extends Grade {
  readonly id: string;
  readonly name: string;
  readonly version: number;
  readonly note: string;
  /** Null for the first. */
  readonly why: string | null;
  readonly madeBy: string;
  readonly madeByName: string;
  readonly madeAt: Date;
}

const COLUMNS: { readonly [figure in GradeFigure]: string } = {
  meltMinC: 'melt_min_c',
  meltMaxC: 'melt_max_c',
  mouldMinC: 'mould_min_c',
  mouldMaxC: 'mould_max_c',
  ejectionC: 'ejection_c',
  dryingC: 'drying_c',
  dryingHours: 'drying_hours',
  densityGPerCm3: 'density_g_per_cm3',
  shrinkageMinPercent: 'shrinkage_min_percent',
  shrinkageMaxPercent: 'shrinkage_max_percent',
  residenceMin: 'residence_min',
  meltFlowGPer10Min: 'melt_flow_g_per_10_min',
  meltFlowCm3Per10Min: 'melt_flow_cm3_per_10_min',
  meltFlowC: 'melt_flow_c',
  meltFlowKg: 'melt_flow_kg',
};

const FIGURES = GRADE_FIGURES.map((figure) => `v.${COLUMNS[figure]} as "${figure}"`).join(', ');

const VERSIONS = `select g.id, g.name, g.polymer, g.post_consumer as "isPostConsumer", v.version,
  v.sheet_title as "sheetTitle", v.sheet_date::text as "sheetDate", v.halogenated as "isHalogenated",
  v.filler_percent as "fillerPercent", v.note, v.why, v.made_by as "madeBy", m.display_name as "madeByName",
  v.made_at as "madeAt", ${FIGURES}
  from resin_grade g join resin_grade_version v on v.grade_id = g.id join member m on m.id = v.made_by`;

const IS_LATEST = 'v.version = (select max(version) from resin_grade_version where grade_id = g.id)';

type Row = Omit<KeptGrade, 'figures'> & GradeFigures;

/** Every grade in its latest version, by polymer and name. */
export async function grades(db: Queryable): Promise<readonly KeptGrade[]> {
  const rows = await db.query<Row>(
    `${VERSIONS} where ${IS_LATEST} order by g.polymer, lower(g.name) limit 1000`,
  );
  return rows.map(gradeOf);
}

/** A grade in its latest version. */
export async function gradeById(db: Queryable, id: string): Promise<KeptGrade | undefined> {
  const [row] = await db.query<Row>(`${VERSIONS} where g.id = $1 and ${IS_LATEST}`, [id]);
  return row && gradeOf(row);
}

/** All versions of a grade, the latest first. */
export async function gradeVersions(db: Queryable, id: string): Promise<readonly KeptGrade[]> {
  const rows = await db.query<Row>(`${VERSIONS} where g.id = $1 order by v.version desc`, [id]);
  return rows.map(gradeOf);
}

/** Holds a grade until the transaction ends. */
export async function holdGrade(tx: Tx, id: string): Promise<void> {
  await tx.query('select from resin_grade where id = $1 for no key update', [id]);
}

/** @throws pg.DatabaseError 23505 `resin_grade_name_once` when another has the name */
export async function insertGrade(
  tx: Tx,
  grade: Pick<KeptGrade, 'name' | 'polymer' | 'isPostConsumer'> & { readonly by: string; readonly at: Date },
): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into resin_grade (name, polymer, post_consumer, created_by, created_at)
     values ($1, $2, $3, $4, $5) returning id`,
    [grade.name, grade.polymer, grade.isPostConsumer, grade.by, grade.at],
  );
  if (row === undefined) throw new Error('A new grade came back without an id.');
  return row.id;
}

/** @throws pg.DatabaseError PS002 `resin_grade_version_recyclate_note` for recyclate that says nothing of itself */
export async function insertGradeVersion(
  tx: Tx,
  gradeId: string,
  version: number,
  sheet: GradeSheet & { readonly why: string | null; readonly by: string; readonly at: Date },
): Promise<void> {
  const values = [
    ...[gradeId, version, sheet.sheetTitle, sheet.sheetDate, sheet.isHalogenated, sheet.fillerPercent],
    ...[sheet.note, sheet.why, sheet.by, sheet.at],
    ...GRADE_FIGURES.map((figure) => sheet.figures[figure]),
  ];
  await tx.query(
    `insert into resin_grade_version (grade_id, version, sheet_title, sheet_date, halogenated, filler_percent, note,
       why, made_by, made_at, ${GRADE_FIGURES.map((figure) => COLUMNS[figure]).join(', ')})
     values (${values.map((_, place) => `$${place + 1}`).join(', ')})`,
    values,
  );
}

function gradeOf(row: Row): KeptGrade {
  const { id, name, polymer, isPostConsumer, version, note, why, madeBy, madeByName, madeAt } = row;
  const { sheetTitle, sheetDate, isHalogenated, fillerPercent } = row;
  const figures = Object.fromEntries(GRADE_FIGURES.map((figure) => [figure, row[figure]])) as {
    readonly [figure in GradeFigure]: number | null;
  };
  return {
    ...{ id, name, polymer, isPostConsumer, version, note, why, madeBy, madeByName, madeAt },
    ...{ sheetTitle, sheetDate, isHalogenated, fillerPercent, figures },
  };
}
