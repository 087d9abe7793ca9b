import type { Actor } from '../../context.js';
import { memberAsking } from '../../http/asker.js';
import { Refusal, refuse } from '../../reasons.js';
import { sprueDiameterNow } from '../check-ground.js';
import type { CheckReport } from '../check-report-schema.js';
import type { CheckingHouse, DifferenceAnswer } from '../checking-house.js';
import { drawingOf, type Plate, type Revision, revisionOf } from '../store.js';
import { storedReport } from '../stored-report.js';
import { visiblePlate } from '../visible-plate.js';
import { type FactChanged, factsChanged } from './facts-changed.js';
import { type FindingCompared, findingsCompared } from './findings-compared.js';

/** One side of a comparison: a revision with a resin on a bolster. */
export interface SideWish {
  readonly revision: number;
  readonly polymer: string;
  /** Null: the mounted one. */
  readonly bolsterId: string | null;
}

export interface SideCompared {
  readonly revision: Revision;
  readonly polymer: string;
  readonly report: CheckReport;
}

export interface Comparison {
  readonly plate: Plate;
  readonly from: SideCompared;
  readonly to: SideCompared;
  readonly findings: readonly FindingCompared[];
  readonly facts: readonly FactChanged[];
  /** Null where both have the very same file. */
  readonly drawing: DifferenceAnswer | null;
}

/** Two revisions, two resins or two bolsters of one plate, side by side, for who may see the plate. */
export async function comparePlate(
  house: CheckingHouse,
  actor: Actor,
  wish: { readonly plateId: string; readonly from: SideWish; readonly to: SideWish },
): Promise<Comparison | Refusal> {
  const plate = await visiblePlate(house.database, actor, wish.plateId);
  if (plate instanceof Refusal) return plate;
  const from = await sideOf(house, actor, plate, wish.from);
  if (from instanceof Refusal) return from;
  const to = await sideOf(house, actor, plate, wish.to);
  if (to instanceof Refusal) return to;
  const drawing = await drawingsCompared(house, actor, from.revision, to.revision);
  if (drawing instanceof Refusal) return drawing;
  return {
    plate,
    from,
    to,
    findings: findingsCompared(from.report, to.report),
    facts: factsChanged(from.revision.facts, to.revision.facts),
    drawing,
  };
}

async function sideOf(
  house: CheckingHouse,
  actor: Actor,
  plate: Plate,
  { revision: number, polymer, bolsterId }: SideWish,
): Promise<SideCompared | Refusal> {
  const revision = await revisionOf(house.database, plate.id, number);
  if (revision === undefined) return refuse('not-found', { figures: { what: 'revision' } });
  const wish = { plateId: plate.id, revision: number, polymer, bolsterId };
  const stored = await storedReport(house, wish, memberAsking(actor));
  if (stored instanceof Refusal) return stored;
  return { revision, polymer, report: JSON.parse(stored.json) as CheckReport };
}

async function drawingsCompared(
  { checks, database }: CheckingHouse,
  actor: Actor,
  from: Revision,
  to: Revision,
): Promise<DifferenceAnswer | Refusal | null> {
  if (from.dxfSha256 === to.dxfSha256) return null;
  const [before, after] = await Promise.all([
    drawingOf(database, from.plateId, from.revision),
    drawingOf(database, to.plateId, to.revision),
  ]);
  if (before === undefined || after === undefined) throw new Error('A revision has lost its drawing.');
  return checks.difference(before.dxf, after.dxf, await sprueDiameterNow(database), memberAsking(actor));
}
