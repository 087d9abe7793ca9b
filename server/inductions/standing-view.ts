import type { Standing } from '../words/en/inductions.js';
import { REMINDED_DAYS_BEFORE } from './remind.js';
import type { SignOff } from './sign-off-store.js';
import type { InductionVersion } from './store.js';
import { type OwnWay, partsDone, stateOf } from './views.js';

const DAY_MS = 86_400_000;

/** How somebody stands with one competence, and the sign-off that says so. */
export function standingOf(
  induction: InductionVersion,
  { signOffs, readings, requests }: OwnWay,
  now: Date,
): { readonly standing: Standing; readonly signOff: SignOff | undefined } {
  const own = signOffs.filter(({ competence }) => competence === induction.competence);
  const signOff = own.find((one) => stateOf(one, now) === 'standing');
  if (signOff !== undefined) {
    const soon = signOff.validUntil.getTime() - now.getTime() <= REMINDED_DAYS_BEFORE * DAY_MS;
    return { standing: soon ? 'lapses-soon' : 'standing', signOff };
  }
  if (requests.some(({ competence }) => competence === induction.competence)) {
    return { standing: 'asked', signOff: undefined };
  }
  const [latest] = own;
  if (latest !== undefined) {
    return { standing: stateOf(latest, now) === 'revoked' ? 'revoked' : 'lapsed', signOff: latest };
  }
  return { standing: partsDone(induction, readings).size > 0 ? 'reading' : 'none', signOff: undefined };
}
