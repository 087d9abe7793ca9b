import { z } from 'zod';
import type { ShopRules } from './rules.js';

type Day = ShopRules['openingHours']['monday'];

const CLOCK = String.raw`([01]?\d|2[0-4])(?:[:.]([0-5]\d))?`;
const SPAN = new RegExp(`^${CLOCK}\\s*(?:-|–|to)\\s*${CLOCK}$`);
const SPANS_MAX = 6;

/** A day's opening hours as people write them: `9-22`, `09:00-12:00, 13:00-22:00`; nothing: closed. */
export const writtenDay = z
  .string()
  .max(120)
  .default('')
  .transform((written, context): Day => {
    const spans = written
      .split(/[,;]/)
      .map((part) => part.trim())
      .filter(Boolean)
      .map(readSpan);
    const inOrder = spans.every(
      (span, i) => span !== undefined && (i === 0 || (spans[i - 1]?.closes ?? '') <= span.opens),
    );
    if (inOrder && spans.length <= SPANS_MAX) return spans.filter((span) => span !== undefined);
    context.addIssue({
      code: 'custom',
      message: 'Give times such as 9-22, or 9-12, 13-22; leave it empty when closed.',
    });
    return z.NEVER;
  });

/** A day's opening hours as `writtenDay` reads them. */
export function writtenHours(day: Day): string {
  return day.map(({ opens, closes }) => `${opens}-${closes}`).join(', ');
}

function readSpan(written: string): { opens: string; closes: string } | undefined {
  const [, openHour, openMinute = '00', closeHour, closeMinute = '00'] = SPAN.exec(written) ?? [];
  if (openHour === undefined || closeHour === undefined) return undefined;
  const opens = `${openHour.padStart(2, '0')}:${openMinute}`;
  const closes = `${closeHour.padStart(2, '0')}:${closeMinute}`;
  return opens < closes && opens < '24:00' && closes <= '24:00' ? { opens, closes } : undefined;
}
