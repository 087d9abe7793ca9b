import { z } from 'zod';
import { id } from '../http/id.js';

const at = { xMm: z.number(), yMm: z.number() };

/** A bolster on the wire: what a plate is drawn for. */
export const bolsterView = z
  .object({
    id,
    name: z.string(),
    version: z.int(),
    mounted: z.boolean(),
    pressId: id,
    face: z.object({
      widthMm: z.number(),
      heightMm: z.number(),
      centreXMm: z.number(),
      centreYMm: z.number(),
      material: z.string(),
      allowablePressureMpa: z.number(),
      openings: z.array(z.array(z.object(at))),
    }),
    holes: z.array(
      z.object({
        ...at,
        thread: z.string().meta({ description: 'ISO metric size, for instance M6.' }),
        depthMm: z.number(),
        positionMm: z.number().meta({ description: 'Position tolerance as a radius.' }),
      }),
    ),
    sprue: z.object({
      lengthMm: z.number(),
      nozzleEndDiameterMm: z.number(),
      partingFaceDiameterMm: z.number(),
    }),
    daylight: z.object({ minimumMm: z.number(), largestStackMm: z.number() }),
  })
  .meta({ id: 'Bolster', description: 'Looking at the moving half’s face, origin on the sprue axis, mm.' });

export const bolsterPage = z
  .object({ items: z.array(bolsterView), next: z.string().nullable() })
  .meta({ id: 'BolsterPage' });
