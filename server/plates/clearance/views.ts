import type { z } from 'zod';
import type { clearanceReply } from './schemas.js';
import type { Clearance } from './store.js';
import { type Since, voidBecause } from './void-because.js';

/** A decision as the API answers it. */
export function clearanceView(made: Clearance, since: Since): z.output<typeof clearanceReply> {
  const { bolsterId, bolsterName, bolsterVersion, decidedBy, decidedByName, readings, reports } = made;
  return {
    id: made.id,
    plateId: made.plateId,
    revision: made.revision,
    bolster: { id: bolsterId, name: bolsterName, version: bolsterVersion },
    step: made.step,
    decision: made.decision,
    readings:
      readings === null
        ? null
        : {
            ...readings,
            thicknessMm: readings.thicknessMm === null ? null : [...readings.thicknessMm],
            parallelismMm: parallelismMm(readings.thicknessMm),
            holes: [...readings.holes],
            judged: [...readings.judged],
          },
    trialRunId: made.trialRunId,
    note: made.note,
    decidedBy: { id: decidedBy, displayName: decidedByName },
    decidedAt: made.decidedAt,
    voidBecause: voidBecause(made, since),
    reports: reports.map(({ polymer, reportId, cautions }) => ({
      polymer,
      reportId,
      acceptedCautions: [...cautions],
    })),
  };
}

/** Largest less smallest, mm; null where nothing was measured. */
function parallelismMm(thicknessMm: readonly number[] | null): number | null {
  if (thicknessMm === null) return null;
  return Math.round((Math.max(...thicknessMm) - Math.min(...thicknessMm)) * 1000) / 1000;
}
