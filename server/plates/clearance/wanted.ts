import type { z } from 'zod';
import { Refusal } from '../../reasons.js';
import { polymerNamed } from '../polymer-named.js';
import type { DecisionWanted } from './decide.js';
import type { FitReadings } from './readings.js';
import type { clearanceBody } from './schemas.js';

/** A request's body as the command takes it, polymers under our own names, each once. */
export function decisionOf(
  body: z.output<typeof clearanceBody>,
  about: { readonly plateId: string; readonly revision: number },
): DecisionWanted | Refusal {
  const polymers: string[] = [];
  for (const symbol of body.polymers ?? []) {
    const polymer = polymerNamed(symbol, 'polymers');
    if (polymer instanceof Refusal) return polymer;
    if (!polymers.includes(polymer)) polymers.push(polymer);
  }
  const accepted: DecisionWanted['accepted'][number][] = [];
  for (const one of body.acceptedCautions ?? []) {
    if (typeof one === 'string') {
      accepted.push({ check: one, polymer: null, note: null });
      continue;
    }
    const polymer = one.polymer === undefined ? null : polymerNamed(one.polymer, 'acceptedCautions');
    if (polymer instanceof Refusal) return polymer;
    accepted.push({ check: one.check, polymer, note: one.note ?? null });
  }
  return {
    ...about,
    bolsterId: body.bolsterId ?? null,
    step: body.step,
    decision: body.decision,
    polymers,
    accepted,
    readings: readingsOf(body),
    trialRunId: body.trialRunId ?? null,
    note: body.note ?? null,
  };
}

function readingsOf({ measuredThicknessMm, readings }: z.output<typeof clearanceBody>): FitReadings | null {
  if (measuredThicknessMm === undefined && readings === undefined) return null;
  const [topLeft, topRight, bottomRight, bottomLeft] = measuredThicknessMm ?? [];
  const measured =
    topLeft !== undefined && topRight !== undefined && bottomRight !== undefined && bottomLeft !== undefined;
  return {
    thicknessMm: measured ? [topLeft, topRight, bottomRight, bottomLeft] : null,
    holes: (readings?.holes ?? []).map((hole) => ({
      hole: hole.hole,
      diameterMm: hole.diameterMm ?? null,
      sinkDiameterMm: hole.sinkDiameterMm ?? null,
      sinkDepthMm: hole.sinkDepthMm ?? null,
    })),
    feedDiameterMm: readings?.feedDiameterMm ?? null,
    feedDepthMm: readings?.feedDepthMm ?? null,
    burrsRemoved: readings?.burrsRemoved ?? null,
    headsBelowFace: readings?.headsBelowFace ?? null,
  };
}
