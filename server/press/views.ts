import type { z } from 'zod';
import type { bolsterView } from './schemas.js';
import type { Bolster } from './store.js';

/** A bolster as the API shows it. */
export function viewOfBolster({
  id,
  name,
  version,
  mounted,
  pressId,
  facts,
}: Bolster): z.output<typeof bolsterView> {
  const { face, sprue } = facts;
  return {
    id,
    name,
    version,
    mounted,
    pressId,
    face: {
      widthMm: face.widthMm,
      heightMm: face.heightMm,
      centreXMm: face.centre.x,
      centreYMm: face.centre.y,
      material: facts.faceMaterial,
      allowablePressureMpa: facts.allowableFacePressureMpa,
      openings: facts.faceOpenings.map((ring) => ring.map(({ x, y }) => ({ xMm: x, yMm: y }))),
    },
    holes: facts.holes.map(({ at, thread, depthMm, positionMm }) => ({
      xMm: at.x,
      yMm: at.y,
      thread,
      depthMm,
      positionMm,
    })),
    sprue: { ...sprue },
    daylight: { minimumMm: facts.minimumDaylightMm, largestStackMm: facts.largestStackMm },
  };
}
