import type { z } from 'zod';
import { wordNoticeTo } from '../words/en/notices.js';
import { momentText } from '../words/en/times.js';
import type { noticeReply } from './schemas.js';
import type { Notice } from './store.js';

/** A notice on the wire. */
export function noticeView(notice: Notice, timeZone: string): z.output<typeof noticeReply> {
  const { id, kind, href, createdAt, readAt } = notice;
  const { strong, text } = wordNoticeTo(kind, { ...notice, timeZone });
  return { id, kind, strong, text, href, createdAt, readAt };
}

/** A notice as a line of the page. */
export function noticeLine(notice: Notice, timeZone: string) {
  const { id, kind, href, createdAt } = notice;
  const words = wordNoticeTo(kind, { ...notice, timeZone });
  return { ...words, id, href, since: momentText(createdAt, timeZone) };
}
