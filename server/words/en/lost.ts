import { REASON_CODES, type Reason } from '../../reasons.js';
import { wordReason } from './reasons.js';

/** What a booking lost, as a notice or the trail keeps it (reasons as JSON), in sentences; nothing of what is not that. */
export function lostText(json: string): string {
  return reasonsIn(json)
    .map((reason) => wordReason(reason).message)
    .join(' ');
}

function reasonsIn(json: string): readonly Reason[] {
  if (json === '') return [];
  const kept = JSON.parse(json) as readonly Reason[];
  return kept.filter(({ code }) => REASON_CODES.includes(code));
}
