import type { Standing } from '../words/en/inductions.js';
import { contentsOf } from './contents-of.js';
import { lapsesSoonFrom } from './lapses-soon.js';
import type { SignOff } from './sign-off-store.js';
import type { InductionVersion } from './store.js';
import { type OwnWay, partsDone, stateOf } from './views.js';

/** How somebody stands with one competence, and the sign-off that says so. */
export function standingOf(
  induction: InductionVersion,
  { signOffs, readings, requests }: OwnWay,
  now: Date,
): { readonly standing: Standing; readonly signOff: SignOff | undefined } {
  const own = signOffs.filter(({ competence }) => competence === induction.competence);
  const signOff = own.find((one) => stateOf(one, now) === 'standing');
  if (signOff !== undefined) {
    return { standing: lapsesSoonFrom(signOff) <= now ? 'lapses-soon' : 'standing', signOff };
  }
  if (requests.some(({ competence }) => competence === induction.competence)) {
    return { standing: 'asked', signOff: undefined };
  }
  const [latest] = own;
  if (latest !== undefined) {
    return { standing: stateOf(latest, now) === 'revoked' ? 'revoked' : 'lapsed', signOff: latest };
  }
  const done = partsDone(induction, readings).size;
  if (done === 0) return { standing: 'none', signOff: undefined };
  return { standing: done < contentsOf(induction).parts.length ? 'reading' : 'read', signOff: undefined };
}
