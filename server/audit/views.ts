import type { z } from 'zod';
import { SUBJECT_WORDS, THE_SERVICE, wordAction } from '../words/en/audit.js';
import { clockText, dateText, dayText } from '../words/en/times.js';
import { type trailReply, writeTrailCursor } from './schemas.js';
import type { TrailEntry } from './store.js';

/** A page of the trail, cut from entries that were read with one more than `limit`. */
export function cutTrail(entries: readonly TrailEntry[], limit: number) {
  const items = entries.slice(0, limit);
  const last = items.at(-1);
  return { items, next: entries.length > limit && last !== undefined ? writeTrailCursor(last.id) : null };
}

/** An entry on the wire. */
export function trailView(entry: TrailEntry, timeZone: string): z.output<typeof trailReply>['items'][number] {
  const { id, at, actorId, actor, action, subjectKind, subjectId, details } = entry;
  const sentence = wordAction(entry, timeZone);
  return { id: writeTrailCursor(id), at, actorId, actor, action, sentence, subjectKind, subjectId, details };
}

/** Entries as the page shows them, in the days of the shop's own calendar. */
export function trailDays(entries: readonly TrailEntry[], timeZone: string) {
  const days = new Map<string, ReturnType<typeof trailLine>[]>();
  for (const entry of entries) {
    const day = dateText(entry.at, timeZone);
    days.set(day, [...(days.get(day) ?? []), trailLine(entry, timeZone)]);
  }
  return [...days].map(([name, rows]) => ({ name, rows }));
}

/** The few latest entries, each with its day where it is not today's. */
export function trailLines(entries: readonly TrailEntry[], timeZone: string, today: Date) {
  const day = dayText(today, timeZone);
  return entries.map((entry) => {
    const line = trailLine(entry, timeZone);
    const on = dayText(entry.at, timeZone);
    return { ...line, time: on === day ? line.time : `${on}, ${line.time}` };
  });
}

/** Kinds of things that have a page of their own under this path. */
const PAGES: { readonly [kind: string]: string } = {
  booking: '/bookings/',
  'near-miss': '/near-misses/',
  plate: '/plates/',
  run: '/runs/',
};

function trailLine(entry: TrailEntry, timeZone: string) {
  const { at, actorId, actor, subjectKind, subjectId } = entry;
  const page = PAGES[subjectKind];
  return {
    time: clockText(at, timeZone),
    who: actor ?? THE_SERVICE,
    ...(actorId !== null && { whoHref: `/trail?${new URLSearchParams({ person: actorId })}` }),
    sentence: wordAction(entry, timeZone),
    thing: SUBJECT_WORDS[subjectKind] ?? subjectKind,
    thingHref: `/trail?${new URLSearchParams({ kind: subjectKind, thing: subjectId })}`,
    ...(page !== undefined && { href: `${page}${subjectId}` }),
  };
}
