import type { DrawingNotice } from '../../engineering/drawing/measured-drawing.js';

function countText(notice: DrawingNotice, one: string, many: string): string {
  const count = notice.count ?? 1;
  return count === 1 ? `one ${one}` : `${count} ${many}`;
}

const NOTICES = {
  'units-assumed': () => 'The drawing states no units; millimetres were taken for granted.',
  'layer-not-a-feature': (notice) =>
    `Layer ${notice.layer ?? 'without a name'} is not a feature and was left out.`,
  'layer-frozen': (notice) => `Layer ${notice.layer ?? ''} is frozen and was left out.`,
  'layer-off': (notice) => `Layer ${notice.layer ?? ''} is switched off and was left out.`,
  'notes-left-out': (notice) =>
    `Notes were left out: ${countText(notice, notice.entity ?? 'note', notice.entity ?? 'notes')} on layer ${notice.layer ?? ''}.`,
  'paper-space-left-out': (notice) =>
    `Paper space was left out (${countText(notice, 'entity', 'entities')}).`,
  'duplicates-dropped': (notice) =>
    `Drawn twice and counted once: ${countText(notice, 'entity', 'entities')}${notice.layer ? ` on layer ${notice.layer}` : ''}.`,
} satisfies { readonly [code in DrawingNotice['code']]: (notice: DrawingNotice) => string };

/** What the reader left out or took for granted, as a sentence. */
export function wordNotice(notice: DrawingNotice): string {
  const words: (notice: DrawingNotice) => string = NOTICES[notice.code];
  return words(notice);
}
