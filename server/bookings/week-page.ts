import { join } from 'node:path';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Temporal } from 'temporal-polyfill';
import { actorOf } from '../http/acting.js';
import { ASSETS_PREFIX } from '../http/assets.js';
import type { House } from '../http/house.js';
import { sendSheet } from '../http/sheet.js';
import { may } from '../members/permissions.js';
import { dayTimeLine } from '../pictures/day-time-line.js';
import { SafeHtml } from '../pictures/safe-html.js';
import { weekTimeLine } from '../pictures/week-time-line.js';
import { type PressOnSheet, pressOnSheet } from '../press/store.js';
import { PROJECT_FOLDER } from '../project-folder.js';
import { dayIn } from '../shop/day-in.js';
import { dayOf } from '../shop/opening-hours.js';
import type { RulesInForce } from '../shop/rules.js';
import { type RulesVersion, rulesInForceAndComing } from '../shop/store.js';
import { renderer } from '../views.js';
import { momentText } from '../words/en/times.js';
import { dayLabel, lanesNote, rangeText, WEEK_WORDS, weekLabel } from '../words/en/week.js';
import { memo } from './memo.js';
import { equipmentKinds, type WeekHold, weekHolds } from './store.js';
import { WEEK_KEY } from './week-key.js';
import { DAYS_SHOWN, shownMinutes, type WeekDay, weekDays } from './week-view.js';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** No zone is further from UTC than this; what is read beyond the week is not drawn. */
const ZONE_DAYS_MAX = 1;

/** Weeks remembered as drawn, for as many members as look at them within a minute. */
const WEEKS_KEPT_MAX = 200;

interface DrawnWeek {
  readonly range: string;
  /** Addresses of the weeks beside it. */
  readonly before: string;
  readonly after: string;
  /** When it was drawn. */
  readonly drawn: string;
  readonly body: SafeHtml;
}

/** The press week: seven days from the one asked for, drawn as a band a day and told again as a table. */
export function weekPage(house: House) {
  const drawWeek = memo(weekKey, weekDrawer(), WEEKS_KEPT_MAX);
  const { database } = house;

  return async (request: FastifyRequest, reply: FastifyReply): Promise<FastifyReply> => {
    const actor = actorOf(request);
    const { memberId } = actor;
    const seesAll = may(actor, 'booking-see-whole');
    const now = house.now();
    const query = request.query as { readonly from?: unknown; readonly day?: unknown };
    const asked = dayIn(query.from);
    const near = asked === undefined ? now : new Date(asked.toString());
    const [[inForce, ...coming], press, kinds, holds] = await Promise.all([
      rulesInForceAndComing(database, now),
      pressOnSheet(database),
      equipmentKinds(database),
      weekHolds(database, daysFrom(near, -ZONE_DAYS_MAX - 1), daysFrom(near, DAYS_SHOWN + ZONE_DAYS_MAX + 1)),
    ]);
    if (inForce === undefined) throw new Error('There are no shop rules in force.');
    const rules = { ...inForce.rules, version: inForce.version };
    const day = dayIn(query.day)?.toString();
    const { drawn, ...week } = drawWeek({
      from: asked?.toString(),
      day,
      rules,
      coming,
      kinds,
      holds,
      memberId,
      seesAll,
      now,
    });
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
        titleBlock: titleBlock(week.range, drawn, press, rules),
      },
      week,
    );
  };
}

/** What a drawn week depends on. Days as text; without `from` the week begins today. */
interface WeekAsked {
  readonly from: string | undefined;
  readonly day: string | undefined;
  readonly rules: RulesInForce;
  readonly coming: readonly RulesVersion[];
  readonly holds: readonly WeekHold[];
  readonly kinds: readonly WeekHold['kind'][];
  readonly memberId: string;
  readonly seesAll: boolean;
  readonly now: Date;
}

/** Rules of one version are never changed, but a process may meet two databases; of the present, the minute counts. */
function weekKey({ from, day, rules, coming, kinds, holds, memberId, seesAll, now }: WeekAsked): string {
  const minute = Math.floor(now.getTime() / MINUTE_MS);
  const later = coming.map(({ validFrom, rules: { openingHours } }) => [validFrom, openingHours]);
  const hours = JSON.stringify([rules.timeZone, rules.openingHours, later]);
  return [from, day, memberId, seesAll, minute, hours, kinds, ...holds.map(holdKey)].join('\n');
}

/** Texts are quoted, so that no name can be taken for two fields. */
function holdKey(hold: WeekHold): string {
  const { equipment, note, displayName, plateName, polymer } = hold;
  const texts = JSON.stringify([equipment, note, displayName, plateName, polymer]);
  const times = `${hold.startsAt.getTime()} ${hold.endsAt.getTime()}`;
  return `${hold.kind} ${hold.purpose} ${hold.bookingId} ${hold.memberId} ${times} ${texts}`;
}

/** Draws the part of the page below its title. */
function weekDrawer(): (asked: WeekAsked) => DrawnWeek {
  const { partial } = renderer({
    templatesFolder: join(PROJECT_FOLDER, 'templates'),
    publicFolder: join(PROJECT_FOLDER, 'public'),
    assetsPrefix: ASSETS_PREFIX,
    cached: true,
  });
  return (asked) => {
    const { rules, coming, kinds, holds, memberId, seesAll, now } = asked;
    const from = dayIn(asked.from) ?? dayOf(now, rules.timeZone);
    const days = weekDays({ from, hours: rules, coming, kinds, holds, memberId, seesAll, now });
    const shown = days.find(({ day }) => day.toString() === asked.day) ?? days[0];
    const range = rangeText(days[0]?.picture.name ?? '', days.at(-1)?.picture.name ?? '');
    const body = partial('week-body', {
      ...(shown !== undefined && pictures(days, shown, range)),
      dayLinks: days.map((day) => dayLink(from, day, day === shown)),
      table: days.map(({ picture, rows, book }) => ({
        name: picture.name,
        rows,
        book,
        closed: picture.open === null,
      })),
      lanesNote: lanesNote(kinds),
      key: WEEK_KEY,
    });
    return {
      range,
      before: weekAddress(from.subtract({ days: DAYS_SHOWN })),
      after: weekAddress(from.add({ days: DAYS_SHOWN })),
      drawn: momentText(now, rules.timeZone),
      body: new SafeHtml(body),
    };
  };
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
  };
}

function dayLink(from: Temporal.PlainDate, { day, picture }: WeekDay, current: boolean) {
  const [weekday = '', date = ''] = picture.name.split(' ');
  return { href: `/week?from=${from}&day=${day}#day`, weekday, date, current };
}

function weekAddress(from: Temporal.PlainDate): string {
  return `/week?from=${from}`;
}

function daysFrom(instant: Date, days: number): Date {
  return new Date(instant.getTime() + days * DAY_MS);
}

function titleBlock(range: string, drawn: string, press: PressOnSheet | undefined, rules: RulesInForce) {
  const bolster = press?.bolsterName == null ? 'no bolster mounted' : `${press.bolsterName} mounted`;
  return [
    { label: 'Sheet', value: `${WEEK_WORDS.title}, ${range}` },
    { label: 'Press', value: press === undefined ? 'no press yet' : `${press.clampMaxKn} kN, ${bolster}` },
    { label: 'Drawn', value: drawn },
    { label: 'Shop rules', value: `version ${rules.version}` },
  ];
}
