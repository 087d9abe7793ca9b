import { checkDrawing, type Outcome, reportDrawing } from '../../server/plates/check-drawing.js';
import type { Checks } from '../../server/plates/checking-house.js';
import { Refusal } from '../../server/reasons.js';

/** Checks in this thread: nobody waits for it yet, and our own drawings are no danger to it. */
export const checksHere: Pick<Checks, 'check' | 'report'> = {
  check: async (question) => valueFrom(checkDrawing(question)),
  report: async (question, bolster) => valueFrom(reportDrawing(question, bolster)),
};

function valueFrom<Value>(outcome: Outcome<Value>): Value | Refusal {
  return 'refused' in outcome ? new Refusal(outcome.refused) : outcome.value;
}
