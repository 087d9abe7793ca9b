import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Temporal } from 'temporal-polyfill';
import { actorOf } from '../http/acting.js';
import type { House } from '../http/house.js';
import { sendSheet } from '../http/sheet.js';
import { dayTimeLine } from '../pictures/day-time-line.js';
import { weekTimeLine } from '../pictures/week-time-line.js';
import { mountedBolster, type Press, thePress } from '../press/store.js';
import type { RulesInForce } from '../shop/rules.js';
import { rulesAt } from '../shop/store.js';
import { momentText } from '../words/en/times.js';
import { dayLabel, rangeText, WEEK_WORDS, weekLabel } from '../words/en/week.js';
import { dayIn } from './day-in.js';
import { dayOf } from './opening-hours.js';
import { weekHolds } from './store.js';
import { WEEK_KEY } from './week-key.js';
import { DAYS_SHOWN, shownMinutes, type WeekDay, weekDays, weekSpan } from './week-view.js';

/** The press week: seven days from the one asked for, drawn as a band a day and told again as a table. */
export async function showWeek(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
): Promise<FastifyReply> {
  const { memberId } = actorOf(request);
  const { database } = house;
  const now = house.now();
  const [rules, press, bolster] = await Promise.all([
    rulesAt(database, now),
    thePress(database),
    mountedBolster(database),
  ]);
  const query = request.query as { readonly from?: unknown; readonly day?: unknown };
  const from = dayIn(query.from) ?? dayOf(now, rules.timeZone);
  const span = weekSpan(from, rules.timeZone);
  const holds = press === undefined ? [] : await weekHolds(database, press.id, span.startsAt, span.endsAt);
  const days = weekDays({ from, hours: rules, holds, memberId, now });
  const shown = days.find(({ day }) => day.toString() === query.day) ?? days[0];
  const range = rangeText(days[0]?.picture.name ?? '', days.at(-1)?.picture.name ?? '');
  return sendSheet(
    request,
    reply,
    house,
    'week/week',
    {
      title: WEEK_WORDS.title,
      kicker: WEEK_WORDS.kicker,
      current: 'week',
      place: rules.makerspaceName,
      titleBlock: titleBlock(range, press, bolster?.name, rules, now),
    },
    {
      range,
      before: weekAddress(from.subtract({ days: DAYS_SHOWN })),
      after: weekAddress(from.add({ days: DAYS_SHOWN })),
      ...(shown !== undefined && pictures(days, shown, range)),
      dayLinks: days.map((day) => dayLink(from, day, day === shown)),
      table: days.map(({ picture, rows }) => ({ name: picture.name, rows, closed: picture.open === null })),
      key: WEEK_KEY,
      place: rules.makerspaceName,
    },
  );
}

function pictures(days: readonly WeekDay[], shown: WeekDay, range: string) {
  const minutes = shownMinutes(days);
  return {
    week: weekTimeLine({
      ...minutes,
      prefix: 'week',
      label: weekLabel(range),
      days: days.map(({ picture }) => picture),
    }),
    day: dayTimeLine({ ...minutes, prefix: 'day', label: dayLabel(shown.picture.name), day: shown.picture }),
    dayName: shown.picture.name,
  };
}

function dayLink(from: Temporal.PlainDate, { day, picture }: WeekDay, current: boolean) {
  const [weekday = '', date = ''] = picture.name.split(' ');
  return { href: `/week?from=${from}&day=${day}#day`, weekday, date, name: picture.name, current };
}

function weekAddress(from: Temporal.PlainDate): string {
  return `/week?from=${from}`;
}

function titleBlock(
  range: string,
  press: Press | undefined,
  bolsterName: string | undefined,
  rules: RulesInForce,
  now: Date,
) {
  const force = press === undefined ? 'no press yet' : `${press.facts.clamp.maxKn} kN`;
  return [
    { label: 'Sheet', value: `${WEEK_WORDS.title}, ${range}` },
    { label: 'Press', value: `${force}, ${bolsterName === undefined ? 'no bolster' : bolsterName} mounted` },
    { label: 'Drawn', value: momentText(now, rules.timeZone) },
    { label: 'Shop rules', value: `version ${rules.version}` },
  ];
}
