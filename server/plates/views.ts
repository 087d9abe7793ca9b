import type { z } from 'zod';
import type { plateReply, wholePlateReply } from './schemas.js';
import type { Plate, Revision } from './store.js';

/** A plate in a list. */
export function plateView(plate: Plate, cleared: boolean): z.output<typeof plateReply> {
  return {
    id: plate.id,
    name: plate.name,
    ownerId: plate.ownerId,
    revision: plate.latestRevision,
    cleared,
    createdAt: plate.createdAt,
    ownerName: plate.ownerName,
    sharing: plate.sharing,
    place: plate.place,
    condition: plate.condition,
    conditionNote: plate.conditionNote,
    retired: plate.retiredAt !== null,
  };
}

/** A plate with all its revisions. */
export function wholePlateView(
  plate: Plate,
  revisions: readonly Revision[],
  cleared: boolean,
): z.output<typeof wholePlateReply> {
  return {
    ...plateView(plate, cleared),
    revisions: revisions.map(({ revision, fileName, dxfSha256, createdAt, note, facts }) => ({
      revision,
      fileName,
      dxfSha256,
      createdAt,
      note,
      ...facts,
      packerPartIds: [...facts.packerPartIds],
      cutters: facts.cutters.map((cutter) => ({ ...cutter })),
      screw: { ...facts.screw },
      screwGroups: facts.screwGroups.map((group) => ({ ...group, holes: [...group.holes] })),
    })),
  };
}
