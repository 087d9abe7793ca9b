import type { z } from 'zod';
import type { plateReply, wholePlateReply } from './schemas.js';
import type { Plate, Revision } from './store.js';

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
