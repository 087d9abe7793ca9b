import type { Queryable } from '../../database/queryable.js';
import type { Tx } from '../../database/transaction.js';

export const STACK_PART_KINDS = ['facing', 'packer'] as const;
export const STACK_PART_STATES = ['in-service', 'retired'] as const;

export type StackPartKind = (typeof STACK_PART_KINDS)[number];
export type StackPartState = (typeof STACK_PART_STATES)[number];

/** What of it is metal, and never changes: ground thinner, it is another part. */
export interface StackPartMetal {
  readonly kind: StackPartKind;
  readonly thicknessMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** `steel` or an alloy name of the material table. */
  readonly material: string;
}

/** What is written about it. */
export interface StackPartLabel {
  readonly name: string;
  /** Largest less smallest thickness over its face, as measured; null when nobody has. */
  readonly parallelWithinMm: number | null;
  /** Where on the rack it lies; empty when it is not said. */
  readonly place: string;
  readonly note: string;
  readonly state: StackPartState;
}

/** A facing plate or a packer of the workshop. */
export interface StackPart extends StackPartMetal, StackPartLabel {
  readonly id: string;
  /** How often it was edited, counting from 1. */
  readonly edition: number;
  readonly createdAt: Date;
}

const STACK_PART = `select id, kind, name, thickness_mm as "thicknessMm", width_mm as "widthMm",
  height_mm as "heightMm", material, parallel_within_mm as "parallelWithinMm", place, note, state, edition,
  created_at as "createdAt" from stack_part`;

/** A facing plate or packer by id, in service or retired; a plate's revision names it. */
export async function stackPart(db: Queryable, id: string): Promise<StackPart | undefined> {
  const [part] = await db.query<StackPart>(`${STACK_PART} where id = $1`, [id]);
  return part;
}

/** All of them, those in service first, facing plates before packers, the thinnest first. */
export async function stackParts(db: Queryable): Promise<readonly StackPart[]> {
  return await db.query<StackPart>(
    `${STACK_PART} order by state, kind, thickness_mm, lower(name), id limit 500`,
  );
}

/** As `stackPart`, held until the transaction ends. */
export async function stackPartHeld(tx: Tx, id: string): Promise<StackPart | undefined> {
  const [part] = await tx.query<StackPart>(`${STACK_PART} where id = $1 for no key update`, [id]);
  return part;
}

/** @throws pg.DatabaseError 23505 `stack_part_name_once` when another in service has the name */
export async function insertStackPart(
  tx: Tx,
  part: StackPartMetal & Omit<StackPartLabel, 'state'> & { readonly madeBy: string; readonly at: Date },
): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into stack_part (kind, name, thickness_mm, width_mm, height_mm, material, parallel_within_mm, place,
       note, made_by, created_at)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11) returning id`,
    [
      part.kind,
      part.name,
      part.thicknessMm,
      part.widthMm,
      part.heightMm,
      part.material,
      part.parallelWithinMm,
      part.place,
      part.note,
      part.madeBy,
      part.at,
    ],
  );
  if (row === undefined) throw new Error('A new part of the stack came back without an id.');
  return row.id;
}

/** @throws pg.DatabaseError 23505 `stack_part_name_once` when another in service has the name */
export async function setStackPartLabel(tx: Tx, id: string, label: StackPartLabel): Promise<void> {
  await tx.query(
    `update stack_part set name = $2, parallel_within_mm = $3, place = $4, note = $5, state = $6,
       edition = edition + 1 where id = $1`,
    [id, label.name, label.parallelWithinMm, label.place, label.note, label.state],
  );
}
