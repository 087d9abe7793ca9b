import { type TrailEntry, trailOf } from '../../audit/store.js';
import type { Actor } from '../../context.js';
import { may } from '../../members/permissions.js';
import { Refusal } from '../../reasons.js';
import { THE_SERVICE, wordAction } from '../../words/en/audit.js';
import { runToldText } from '../../words/en/plate-history.js';
import { historyOf } from '../clearance/history.js';
import { historyViews } from '../clearance/steps-view.js';
import { type Plate, type Revision, revisionsOf } from '../store.js';
import { visiblePlate } from '../visible-plate.js';
import type { HistoryHouse, PlateRun } from './history-house.js';

/** Something that happened to a plate. */
export interface PlateEvent {
  readonly at: Date;
  /** An action of the trail, `clearance` or `run`. */
  readonly kind: string;
  /** Goes on from who did it: "cleared a plate". */
  readonly text: string;
  readonly who: string;
  /** What was said or measured; empty where nothing was. */
  readonly note: string;
  /** Where it is seen whole; null where nowhere, or not by this one. */
  readonly href: string | null;
}

export interface PlateHistory {
  readonly plate: Plate;
  /** In the order of time. */
  readonly events: readonly PlateEvent[];
  readonly counts: {
    readonly bookings: number;
    readonly coming: number;
    readonly trials: number;
    readonly runs: number;
  };
}

/** The trail of one plate never comes near it. */
const TRAIL_MAX = 2000;

/** Told by the clearance itself, with what was measured and said. */
const TOLD_BY_CLEARANCE: readonly string[] = [
  'plate-cleared',
  'plate-refused',
  'plate-reworked',
  'plate-clearance-void',
];

/** Everything that is stored of what happened to a plate, for who may see it. */
export async function plateHistory(
  house: HistoryHouse,
  actor: Actor,
  plateId: string,
  timeZone: string,
): Promise<PlateHistory | Refusal> {
  const { database } = house;
  const plate = await visiblePlate(database, actor, plateId);
  if (plate instanceof Refusal) return plate;
  const subject = { kind: 'plate', id: plate.id };
  const [trail, since, revisions, runs, booked] = await Promise.all([
    trailOf(database, { seen: null, actorId: null, subject, before: null, limit: TRAIL_MAX }),
    historyOf(database, plate),
    revisionsOf(database, plate.id),
    house.runsOfPlate(plate.id),
    house.bookingsOfPlate(plate.id),
  ]);
  const told = trail
    .toReversed()
    .filter(({ action }) => !TOLD_BY_CLEARANCE.includes(action))
    .map((entry) => trailEvent(entry, plate, revisions, timeZone));
  const views = historyViews(since, timeZone);
  const cleared = since.decisions
    .map((made, i) => ({ made, view: views[i] }))
    .toReversed()
    .flatMap(({ made, view }) => (view === undefined ? [] : [clearanceEvent(made.decidedAt, view, plate)]));
  const events = [...told, ...cleared, ...runs.map((run) => runEvent(run, actor))];
  const trials = runs.filter(({ kind }) => kind === 'trial').length;
  return {
    plate,
    events: events.toSorted((a, b) => a.at.getTime() - b.at.getTime()),
    counts: { ...booked, trials, runs: runs.length - trials },
  };
}

function trailEvent(
  entry: TrailEntry,
  plate: Plate,
  revisions: readonly Revision[],
  timeZone: string,
): PlateEvent {
  const { at, action, actor, details } = entry;
  const isDrawing = action === 'plate-submitted' || action === 'plate-revised';
  const revision = isDrawing ? revisions.find((one) => one.revision === details.revision) : undefined;
  return {
    at,
    kind: action,
    text: wordAction(entry, timeZone),
    who: actor ?? THE_SERVICE,
    note: revision?.note ?? '',
    href: hrefOf(entry, plate, revision),
  };
}

function hrefOf({ details }: TrailEntry, plate: Plate, revision: Revision | undefined): string | null {
  if (typeof details.damageId === 'string') return `/damage/${details.damageId}`;
  return revision === undefined ? null : `/plates/${plate.id}?revision=${revision.revision}`;
}

function clearanceEvent(at: Date, view: ReturnType<typeof historyViews>[number], plate: Plate): PlateEvent {
  const told = [view.readings, view.note, view.trial, view.void === '' ? '' : `${view.void}.`];
  return {
    at,
    kind: 'clearance',
    text: `${view.what.slice(0, 1).toLowerCase()}${view.what.slice(1)}; ${view.on}`,
    who: view.who,
    note: told.filter(Boolean).join(' '),
    href: `/plates/${plate.id}/clearance`,
  };
}

/** How a run ended is told to whose booking it was, and to stewards. */
function runEvent(run: PlateRun, actor: Actor): PlateEvent {
  const seesWhole = may(actor, 'booking-see-whole', { ownerId: run.memberId });
  return {
    at: run.openedAt,
    kind: 'run',
    text: runToldText({ ...run, outcome: seesWhole ? run.outcome : null }),
    who: run.openedByName,
    note: '',
    href: seesWhole ? `/runs/${run.id}` : null,
  };
}
