import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { FIRST_INDUCTION, STANDING_WORDS } from '../words/en/inductions.js';
import { ownWay } from './own-way.js';
import { standingOf } from './standing-view.js';
import { inductions } from './store.js';

/** What a member has begun, waits for, or is to renew, as lines of the first page. */
export async function nextInductions(db: Queryable, { memberId }: Actor, now: Date) {
  const [all, way] = await Promise.all([inductions(db), ownWay(db, memberId)]);
  const begun = way.signOffs.length + way.readings.length + way.requests.length > 0;
  if (!begun && all.length > 0) return [FIRST_INDUCTION];
  return all.flatMap((induction) => {
    const { standing } = standingOf(induction, way, now);
    if (standing === 'standing' || standing === 'none') return [];
    return [
      {
        name: `Induction: ${induction.title.toLowerCase()}`,
        more: STANDING_WORDS[standing].word,
        href: `/inductions/${induction.competence}`,
        button: 'See the induction',
      },
    ];
  });
}
