import { z } from 'zod';
import { pageOf } from '../../http/cursor.js';
import { instant } from '../../http/instant.js';
import { sharing } from '../schemas.js';
import { PLATE_CONDITIONS } from '../store.js';
import type { LibraryPlate } from './store.js';

const libraryPlateReply = z
  .object({
    id: z.string(),
    name: z.string(),
    revision: z.int().meta({ description: 'The latest, counting from 1.' }),
    ownerName: z.string(),
    ownerLeft: z.boolean().meta({ description: 'Then a steward is asked about it.' }),
    mine: z.boolean(),
    sharing,
    place: z.string().nullable(),
    condition: z.enum(PLATE_CONDITIONS),
    conditionNote: z.string().nullable(),
    note: z.string().nullable().meta({ description: 'What its owner says about the latest revision.' }),
    retired: z.boolean(),
    reached: z
      .enum(['none', 'fit', 'trial', 'production'])
      .meta({ description: 'The step of its clearance that stands on the mounted bolster.' }),
    polymers: z.array(z.string()).meta({ description: 'Cleared for production in these there.' }),
    widthMm: z.number().nullable().meta({ description: 'As drawn; null while the drawing is not read.' }),
    heightMm: z.number().nullable(),
    thicknessMm: z.number(),
    partMm: z.array(z.number()).meta({ description: 'The longer side of each part, shortest first.' }),
    createdAt: instant,
  })
  .meta({ id: 'LibraryPlate' });

export const libraryReply = pageOf(libraryPlateReply);

export function libraryPlateView(plate: LibraryPlate, memberId: string): z.output<typeof libraryPlateReply> {
  const { latestRevision, ownerId, retiredAt, facts, sketch: _drawn, polymers, partMm, ...rest } = plate;
  return {
    ...rest,
    revision: latestRevision,
    mine: ownerId === memberId,
    retired: retiredAt !== null,
    thicknessMm: facts.thicknessMm,
    polymers: [...polymers],
    partMm: [...partMm],
  };
}
