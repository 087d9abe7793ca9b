import { type WeekHold, weekHolds } from '../bookings/store.js';
import type { Queryable } from '../database/queryable.js';
import { dayOf, openSpansOf, startOfDay } from '../shop/opening-hours.js';
import type { ShopRules } from '../shop/rules.js';
import { FLOOR_WORDS as WORDS } from '../words/en/desk.js';
import { clockText } from '../words/en/times.js';

/** What is on the floor now and for the rest of the day, as facts of a sheet. */
export async function floorFacts(db: Queryable, rules: ShopRules, now: Date) {
  const { timeZone } = rules;
  const today = dayOf(now, timeZone);
  const holds = await weekHolds(db, now, startOfDay(today.add({ days: 1 }), timeZone));
  const press = holds.filter(({ kind }) => kind === 'press');
  const others = holds.filter(({ kind, purpose }) => kind !== 'press' && purpose !== 'closure');
  const next = press.find(({ startsAt }) => startsAt > now);
  const open = openSpansOf(today, rules).map(
    ({ startsAt, endsAt }) => `${clockText(startsAt, timeZone)} to ${clockText(endsAt, timeZone)}`,
  );
  return [
    {
      label: WORDS.press,
      value: nowText(
        press.find(({ startsAt }) => startsAt <= now),
        timeZone,
      ),
    },
    {
      label: WORDS.next,
      value: next === undefined ? WORDS.nobody : WORDS.from(whose(next), next.startsAt, timeZone),
    },
    { label: WORDS.open, value: open.join(', ') || WORDS.notToday },
    ...others.map((hold) => ({ label: hold.equipment, value: spanOf(hold, now, timeZone) })),
  ];
}

function nowText(hold: WeekHold | undefined, timeZone: string): string {
  return hold === undefined ? WORDS.free : WORDS.until(whose(hold), hold.endsAt, timeZone);
}

function spanOf(hold: WeekHold, now: Date, timeZone: string): string {
  return hold.startsAt <= now
    ? WORDS.until(whose(hold), hold.endsAt, timeZone)
    : WORDS.from(whose(hold), hold.startsAt, timeZone);
}

/** Who or what holds a piece of equipment. */
function whose({ displayName, purpose, note }: WeekHold): string {
  if (displayName !== null) return displayName;
  const what = purpose === 'closure' ? WORDS.closed : WORDS.outOfService;
  return note === null ? what : `${what}: ${note}`;
}
