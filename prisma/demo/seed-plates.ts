import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Actor } from '../../server/context.js';
import type { Tx } from '../../server/database/transaction.js';
import { accept } from '../../server/http/refused.js';
import { addRevision } from '../../server/plates/add-revision.js';
import { keepPhotograph } from '../../server/plates/photographs/keep-photograph.js';
import { retirePlate } from '../../server/plates/retire-plate.js';
import { sharePlate } from '../../server/plates/share-plate.js';
import { submitPlate } from '../../server/plates/submit-plate.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { drawnPhotograph } from './drawn-photograph.js';
import type { YardMember } from './gullwing-yard.js';
import { YARD_PLATES, type YardPlate } from './yard-plates.js';

const DAY_MS = 86_400_000;

/** How long it takes from a drawing to metal, and how long after that a plate is drawn anew or retired. */
const CUT_DAYS_LATER = 5;
const CHANGED_DAYS_LATER = 12;

/** A plate of the yard as it was kept. */
export type OwnedPlate = YardPlate & { readonly plateId: string; readonly cutAt: Date };

/** The yard's plates, a day after the other, each by the commands that its owner has. */
export async function seedPlates(
  tx: Tx,
  actorIn: (key: YardMember) => Actor,
  opened: Date,
): Promise<ReadonlyMap<string, OwnedPlate>> {
  const plates = new Map<string, OwnedPlate>();
  for (const [i, plate] of YARD_PLATES.entries()) {
    const keptAt = new Date(opened.getTime() + (i + 1) * DAY_MS);
    const ctx = { actor: actorIn(plate.owner), now: keptAt, tx };
    const { name, facts, note = null, sharing } = plate;
    const drawing = await drawingOf(plate);
    const plateId = accept(await submitPlate(ctx, { name, drawing, facts, note }));
    if (sharing !== undefined) accept(await sharePlate(ctx, { plateId, sharing }, { sharingChanged: [] }));
    plates.set(plate.key, { ...plate, plateId, cutAt: daysAfter(keptAt, CUT_DAYS_LATER) });
    await seedLater({ ...ctx, now: daysAfter(keptAt, CHANGED_DAYS_LATER) }, plate, plateId);
  }
  return plates;
}

/** What became of a plate: photographed, drawn anew, retired. */
async function seedLater(
  ctx: { readonly actor: Actor; readonly now: Date; readonly tx: Tx },
  plate: YardPlate,
  plateId: string,
): Promise<void> {
  const { photographed, revised, retired = false } = plate;
  if (photographed !== undefined) {
    const photograph = await drawnPhotograph();
    const about = { plateId, revision: 1 };
    accept(await keepPhotograph(ctx, { photograph, about, caption: photographed }));
  }
  if (revised !== undefined) {
    const { facts, note, redrawn } = revised;
    const given = { plateId, drawing: await drawingOf(plate, redrawn), facts, note };
    accept(await addRevision(ctx, given, { plateRevised: [] }));
  }
  if (retired) accept(await retirePlate(ctx, { plateId, retired }, { plateRetired: [] }));
}

/** A sample drawing; where layers are given another name, it is cut to other depths and widths. */
async function drawingOf({ drawing }: YardPlate, redrawn: { readonly [layer: string]: string } = {}) {
  const fileName = `${drawing}.dxf`;
  const text = await readFile(join(PROJECT_FOLDER, 'public', 'samples', fileName), 'latin1');
  const lines = text.split(/(\r?\n)/).map((line) => redrawn[line] ?? line);
  return { bytes: Buffer.from(lines.join(''), 'latin1'), fileName };
}

function daysAfter(date: Date, days: number): Date {
  return new Date(date.getTime() + days * DAY_MS);
}
