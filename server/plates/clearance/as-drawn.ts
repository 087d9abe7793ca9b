import type { Queryable } from '../../database/queryable.js';
import type { DrawnHole, PlateAsDrawn } from '../../engineering/fit/judge-readings.js';
import { USUAL_FLASH_GAP } from '../../engineering/fit/reading-limits.js';
import { screwOfBolt } from '../../engineering/fit/screw-of-bolt.js';
import { knownScrew, screwSeats } from '../../engineering/fit/screw-seats.js';
import { POLYMERS } from '../../engineering/polymers/polymers.js';
import type { PlateFacts } from '../../engineering/press-facts.js';
import type { Asker } from '../../http/asker.js';
import { type Refusal, refuse } from '../../reasons.js';
import type { CheckGround } from '../check-ground.js';
import { type CheckDone, checkOn } from '../check-now.js';
import type { Checks } from '../checking-house.js';
import { drawingOf } from '../store.js';

/** A revision drawn on a bolster, for a measuring sheet; which resin makes no difference to it. */
export async function revisionOnBolster(
  house: { readonly checks: Pick<Checks, 'check'>; readonly database: Queryable },
  ground: CheckGround,
  asked: { readonly plateId: string; readonly revision: number; readonly facts: PlateFacts },
  asker: Asker,
): Promise<CheckDone | Refusal> {
  const file = await drawingOf(house.database, asked.plateId, asked.revision);
  const [polymer] = POLYMERS;
  if (file === undefined || polymer === undefined)
    return refuse('not-found', { figures: { what: 'revision' } });
  const wish = { dxf: file.dxf, facts: asked.facts, polymer: polymer.symbol };
  return checkOn(house, ground, wish, asker);
}

/** What readings are held against: the facts alone, or with the drawing its holes and feed pocket too. */
export function asDrawn(
  { bolster }: CheckGround,
  facts: PlateFacts,
  done: Pick<CheckDone, 'drawing' | 'check'> | null,
): PlateAsDrawn {
  const { drawnDiameterMm = null, depthMm = 0 } = done?.drawing.feed ?? {};
  return {
    plate: facts,
    bolster: bolster.facts,
    holes: done === null ? [] : holesAsDrawn(facts, bolster.facts, done),
    feed: done === null ? null : { diameterMm: drawnDiameterMm, depthMm },
    flashGap: USUAL_FLASH_GAP,
  };
}

/** Every bolt hole with its sink and its screw, in the order of their numbers. */
export function holesAsDrawn(
  facts: PlateFacts,
  bolster: CheckGround['bolster']['facts'],
  { drawing, check }: Pick<CheckDone, 'drawing' | 'check'>,
): readonly DrawnHole[] {
  return screwSeats(drawing, facts, bolster, check.registration).map((seat) => {
    const screw = screwOfBolt(facts, drawing.bolts, seat.bolt);
    return {
      screw: knownScrew({ ...facts, screw }),
      screwLengthMm: screw.lengthMm,
      diameterMm: seat.holeDiameterMm,
      sinkDepthMm: seat.sinkDepthMm,
      sinkDiameterMm: seat.sinkDiameterMm,
      tappedDepthMm: seat.tappedDepthMm,
    };
  });
}
