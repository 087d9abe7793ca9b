import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FieldErrors } from '../http/form.js';
import { sendSheet } from '../http/sheet.js';
import type { SafeHtml } from '../pictures/safe-html.js';
import type { Foreseen } from '../shop/foreseen.js';
import { affectedView } from '../shop/shop-sheet.js';
import { rulesAt } from '../shop/store.js';
import type { ErrorSummaryView } from '../views.js';
import type { PressHouse } from './press-house.js';

export interface GroundPreview {
  readonly title?: string;
  readonly kicker: string;
  /** Where the change is confirmed, and where one goes back. */
  readonly action: string;
  readonly back: string;
  readonly keep: string;
  /** False for a bolster that is not in the press: nothing that stands is touched. */
  readonly isMounted: boolean;
  /** True where the reason is given on this page. */
  readonly asksWhy?: boolean;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
  readonly changes: readonly { readonly label: string; readonly before: string; readonly after: string }[];
  readonly foreseen: Foreseen;
  /** The form once more. */
  readonly fields: FieldErrors;
  readonly pictures: readonly { readonly caption: string; readonly picture: SafeHtml }[];
}

/** What a change of press or bolster does, before it is kept. */
export async function sendGroundPreview(
  request: FastifyRequest,
  reply: FastifyReply,
  house: PressHouse,
  preview: GroundPreview,
): Promise<FastifyReply> {
  const { title = 'What this change does', kicker, errorSummary, foreseen, fields, ...shown } = preview;
  const { timeZone } = await rulesAt(house.database, house.now());
  const { _csrf: _token, do: _button, ...carried } = fields;
  return sendSheet(
    request,
    reply,
    house,
    'press/preview',
    { title, kicker, current: 'press', ...(errorSummary && { errorSummary }) },
    {
      ...shown,
      ...affectedView(foreseen, timeZone),
      fields: Object.entries(carried).map(([name, value]) => ({ name, value })),
    },
  );
}
