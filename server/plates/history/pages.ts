import type { FastifyPluginAsync } from 'fastify';
import { actorOf } from '../../http/acting.js';
import { accept } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { HISTORY_LABELS, timesText } from '../../words/en/plate-history.js';
import { clockText, dateText } from '../../words/en/times.js';
import { plateIdOf } from '../plate-page/send-plate.js';
import type { HistoryHouse } from './history-house.js';
import { type PlateEvent, plateHistory } from './plate-history.js';

/** What happened to a plate, in the order of time. */
export const plateHistoryPages: FastifyPluginAsync<HistoryHouse> = async (pages, house) => {
  pages.get('/plates/:id/history', async (request, reply) => {
    const timeZone = await house.timeZone();
    const { plate, events, counts } = accept(
      await plateHistory(house, actorOf(request), plateIdOf(request), timeZone),
    );
    return sendSheet(
      request,
      reply,
      house,
      'plates/history',
      {
        title: plate.name,
        kicker: 'History of a plate',
        current: 'plates',
        titleBlock: [
          { label: 'Sheet', value: `History, ${plate.name}` },
          { label: 'Drawn', value: dateText(house.now(), timeZone) },
        ],
      },
      {
        plateHref: `/plates/${plate.id}`,
        facts: (Object.keys(HISTORY_LABELS) as (keyof typeof HISTORY_LABELS)[]).map((name) => ({
          label: HISTORY_LABELS[name],
          value: timesText(counts[name]),
        })),
        days: daysOf(events, timeZone),
      },
    );
  });
};

function daysOf(events: readonly PlateEvent[], timeZone: string) {
  const days = new Map<string, object[]>();
  for (const { at, who, text, note, href } of events) {
    const day = dateText(at, timeZone);
    const row = { time: clockText(at, timeZone), who, text, note, href: href ?? '' };
    days.set(day, [...(days.get(day) ?? []), row]);
  }
  return [...days].map(([name, rows]) => ({ name, rows }));
}
