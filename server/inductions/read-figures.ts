import type { Token } from 'markdown-it';
import { isInductionFigure } from '../pictures/induction-figures.js';
import type { FigureShown } from './contents.js';
import type { FaultAt, TopBlock } from './read-contents.js';

const OURS = /^figure:([a-z-]+)$/;
const JUDGED = /^(clear|caution|stop):\s*/;

/**
 * The drawings of a paragraph that holds nothing else; `undefined` when the block is none. A picture anywhere
 * else, or from anywhere but our own drawings, is a fault.
 */
export function readFigures(block: TopBlock, fault: FaultAt): readonly FigureShown[] | undefined {
  const images = block.flatMap(({ children }) => children ?? []).filter(({ type }) => type === 'image');
  if (images.length === 0) return undefined;
  if (block[0].type !== 'paragraph_open' || !(block[1]?.children ?? []).every(isImageOrSpace)) {
    fault('picture-not-alone', block, images[0]?.content ?? '');
    return [];
  }
  return images.flatMap((image) => {
    const source = String(image.attrGet('src') ?? '');
    const name = OURS.exec(source)?.[1];
    if (name === undefined || !isInductionFigure(name)) {
      fault('picture-not-ours', block, source.slice(0, 60));
      return [];
    }
    const verdict = JUDGED.exec(image.content)?.[1] ?? null;
    const caption = image.content.replace(JUDGED, '').trim();
    return [{ name, caption, verdict: verdict as FigureShown['verdict'] }];
  });
}

function isImageOrSpace({ type, content }: Token): boolean {
  return type === 'image' || type === 'softbreak' || (type === 'text' && content.trim() === '');
}
