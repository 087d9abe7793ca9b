import type { z } from 'zod';
import type { Actor } from '../context.js';
import type { plateReply, wholePlateReply } from './schemas.js';
import type { Plate, Revision } from './store.js';

/** True when the actor may see a plate: their own, and a steward all. */
export function seesPlate(actor: Actor, plate: Pick<Plate, 'ownerId'>): boolean {
  return plate.ownerId === actor.memberId || actor.role !== 'member';
}

/** A plate in a list. Nothing is cleared before there are stewards' measurements to clear it by. */
export function plateView(plate: Plate): z.output<typeof plateReply> {
  return {
    id: plate.id,
    name: plate.name,
    ownerId: plate.ownerId,
    revision: plate.latestRevision,
    cleared: false,
    createdAt: plate.createdAt,
  };
}

/** A plate with all its revisions. */
export function wholePlateView(
  plate: Plate,
  revisions: readonly Revision[],
): z.output<typeof wholePlateReply> {
  return {
    ...plateView(plate),
    revisions: revisions.map(({ revision, fileName, dxfSha256, createdAt, facts }) => ({
      revision,
      fileName,
      dxfSha256,
      createdAt,
      ...facts,
      screw: { ...facts.screw },
    })),
  };
}
