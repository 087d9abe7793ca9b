import type { NoticeView } from '../../views.js';
import { damageMetText } from '../../words/en/damage.js';
import type { CheckDone } from '../check-now.js';
import type { CheckingHouse } from '../checking-house.js';
import { damageUnderPlate } from './damage-under-plate.js';
import { openDamage } from './store.js';

/** What a checked plate would lie over on its bolster, to be looked at; it changes no finding. */
export async function damageNotices(
  { database }: Pick<CheckingHouse, 'database'>,
  { drawing, check, ground }: CheckDone,
): Promise<readonly NoticeView[]> {
  const open = await openDamage(database, ground.bolster.id);
  return damageUnderPlate(drawing, check.registration, open).map(({ damage, meeting }) => ({
    verdict: 'caution',
    word: 'mind',
    ...damageMetText(damage, meeting),
    link: { href: `/damage/${damage.id}`, text: 'See it' },
  }));
}
