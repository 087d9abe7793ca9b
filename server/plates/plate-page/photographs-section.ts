import { may } from '../../members/permissions.js';
import { momentText } from '../../words/en/times.js';
import { type Photograph, photographsOfPlate } from '../photographs/store.js';
import type { PlateOnView } from './plate-on-view.js';

/** The plate's photographs, and the form for one more. Data of `plate-photographs.hbs`. */
export async function photographsSection(seen: PlateOnView, caption = '', error?: string) {
  const { actor, house, plate, rules } = seen;
  const photographs = await photographsOfPlate(house.database, plate.id);
  const adds = may(actor, 'plate-photograph', plate);
  if (photographs.length === 0 && !adds) return undefined;
  return {
    plateId: plate.id,
    photographs: photographs.map((one) => ({
      ...photographView(one, rules.timeZone),
      removable: may(actor, 'photograph-remove', { ownerId: one.keptBy }),
    })),
    adds,
    caption,
    ...(error !== undefined && { error }),
  };
}

/** A photograph with its small picture. */
function photographView(photograph: Photograph, timeZone: string) {
  const { id, caption, revision, keptByName, keptAt } = photograph;
  const { widthPx, heightPx } = thumbSize(photograph);
  return {
    id,
    href: `/photographs/${id}`,
    thumb: `/photographs/${id}?size=thumb`,
    widthPx,
    heightPx,
    words: caption === '' ? 'Photograph without words' : caption,
    of: revision === null ? '' : `revision ${revision}, `,
    by: `${keptByName}, ${momentText(keptAt, timeZone)}`,
  };
}

const THUMB_SIDE_PX = 320;

/** So that nothing jumps while it loads. */
function thumbSize({ widthPx, heightPx }: Photograph) {
  const scale = Math.min(1, THUMB_SIDE_PX / Math.max(widthPx, heightPx));
  return { widthPx: Math.round(widthPx * scale), heightPx: Math.round(heightPx * scale) };
}
