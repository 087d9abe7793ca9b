import type { Queryable } from '../database/queryable.js';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';
import { insertBolsterVersion, insertPressVersion } from './version-store.js';

export interface NewPress {
  readonly name: string;
  readonly facts: PressFacts;
  readonly at: Date;
}

/** Adds a press in its first version, and the piece of equipment by which it is reserved. */
export async function addPress(db: Queryable, { name, facts, at }: NewPress): Promise<string> {
  const [press] = await db.query<{ id: string }>(
    'insert into press (name, created_at) values ($1, $2) returning id',
    [name, at],
  );
  if (press === undefined) throw new Error('A new press came back without an id.');
  await insertPressVersion(db, { pressId: press.id, version: 1, facts, at, madeBy: null, why: null });
  await db.query(`insert into equipment (kind, name, press_id, created_at) values ('press', $1, $2, $3)`, [
    name,
    press.id,
    at,
  ]);
  return press.id;
}

export interface NewBolster {
  readonly pressId: string;
  readonly name: string;
  readonly mounted: boolean;
  readonly facts: BolsterFacts;
  readonly at: Date;
  /** Who added it, and why; left out for those that come with the house. */
  readonly madeBy?: string;
  readonly why?: string;
}

/** Adds a bolster in its first version. */
export async function addBolster(
  db: Queryable,
  { pressId, name, mounted, facts, at, madeBy, why }: NewBolster,
): Promise<string> {
  const [bolster] = await db.query<{ id: string }>(
    'insert into bolster (press_id, name, mounted, created_at) values ($1, $2, $3, $4) returning id',
    [pressId, name, mounted, at],
  );
  if (bolster === undefined) throw new Error('A new bolster came back without an id.');
  const told = { madeBy: madeBy ?? null, why: why ?? null };
  await insertBolsterVersion(db, { bolsterId: bolster.id, version: 1, facts, at, ...told });
  return bolster.id;
}
