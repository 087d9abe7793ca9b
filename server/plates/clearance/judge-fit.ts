import type { Queryable } from '../../database/queryable.js';
import { type JudgedReading, judgeReadings } from '../../engineering/fit/judge-readings.js';
import type { Asker } from '../../http/asker.js';
import { Refusal, refuse } from '../../reasons.js';
import { checkGround } from '../check-ground.js';
import type { Checks } from '../checking-house.js';
import { revisionOf } from '../store.js';
import { asDrawn, revisionOnBolster } from './as-drawn.js';
import type { FitReadings } from './readings.js';

/** Readings held against the drawing on a version of a bolster. */
export interface FitJudged {
  readonly bolsterId: string;
  readonly bolsterVersion: number;
  readonly judged: readonly JudgedReading[];
}

/**
 * Judges what was measured, with no transaction open: the drawing is read off the request thread, and only where
 * holes or feed were measured.
 */
export async function judgeFit(
  house: {
    readonly checks: Pick<Checks, 'check'>;
    readonly database: Queryable;
    readonly now: () => Date;
  },
  asked: {
    readonly plateId: string;
    readonly revision: number;
    readonly bolsterId: string | null;
    readonly readings: FitReadings;
  },
  asker: Asker,
): Promise<FitJudged | Refusal> {
  const { plateId, revision, bolsterId, readings } = asked;
  const ground = await checkGround(house.database, house.now(), bolsterId);
  if (ground instanceof Refusal) return ground;
  const kept = await revisionOf(house.database, plateId, revision);
  if (kept === undefined) return refuse('not-found', { figures: { what: 'revision' } });
  const { facts } = kept;
  const wantsDrawing =
    readings.holes.length > 0 || readings.feedDiameterMm !== null || readings.feedDepthMm !== null;
  const done = wantsDrawing
    ? await revisionOnBolster(house, ground, { plateId, revision, facts }, asker)
    : null;
  if (done instanceof Refusal) return done;
  const { id, version } = ground.bolster;
  const judged = judgeReadings(readings, asDrawn(ground, facts, done));
  return { bolsterId: id, bolsterVersion: version, judged };
}
