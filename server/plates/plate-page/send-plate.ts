import type { FastifyReply, FastifyRequest } from 'fastify';
import { actorOf } from '../../http/acting.js';
import { memberAsking } from '../../http/asker.js';
import { id as idSchema } from '../../http/id.js';
import { accept, refused } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { justDone } from '../../http/told-once.js';
import { Refusal } from '../../reasons.js';
import { rulesAt } from '../../shop/store.js';
import type { ErrorSummaryView } from '../../views.js';
import { olderText } from '../../words/en/plates.js';
import { momentText } from '../../words/en/times.js';
import { checkTitleBlock } from '../check-page.js';
import type { CheckingHouse } from '../checking-house.js';
import { damageNotices } from '../damage/damage-notices.js';
import { type PlateFormErrors, summaryOfPlateForm } from '../plate-form.js';
import { polymerNamed } from '../polymer-named.js';
import { type Revision, revisionsOf } from '../store.js';
import { visiblePlate } from '../visible-plate.js';
import { bookingSection } from './booking-section.js';
import { clearanceSection } from './clearance-section.js';
import { nameSection } from './name-section.js';
import { newRevisionSection, type RevisionTried } from './new-revision-section.js';
import { photographsSection } from './photographs-section.js';
import { isLatest, type PlateOnView } from './plate-on-view.js';
import { type RackTried, rackSection } from './rack-section.js';
import { reportSection } from './report-section.js';
import { reportSeen } from './report-seen.js';
import { revisionsSection } from './revisions-section.js';
import { worseSection } from './worse-section.js';

/** What was typed into a section's form and refused, to be shown again with what is wrong. */
export interface PlateTried {
  readonly revision?: RevisionTried;
  /** Wished for the plate. */
  readonly name?: string;
  readonly rack?: RackTried;
  readonly photograph?: { readonly caption: string; readonly error: string };
  readonly errors?: PlateFormErrors;
  /** Where it is more than the errors at the fields. */
  readonly errorSummary?: ErrorSummaryView;
}

/** What was just done, told once above the page: by the word that `leadOn` was given. */
const JUST_DONE: { readonly [what: string]: { readonly word: string; readonly text: string } } = {
  kept: {
    word: 'kept',
    text: 'This is a plate of yours now. Bookings are made with its latest revision, when that has no stop.',
  },
  renamed: { word: 'renamed', text: 'The plate has its new name.' },
  revised: { word: 'kept', text: 'The new revision is kept. Bookings are made with the latest one.' },
  shared: {
    word: 'shared',
    text: 'This is how the plate is shared now. Bookings it no longer allows need attention.',
  },
  placed: { word: 'noted', text: 'Where the plate lies and how it is stands below.' },
  retired: { word: 'retired', text: 'The plate is neither booked nor revised until it is taken up again.' },
  'taken-up': { word: 'taken up', text: 'The plate is used again.' },
  photographed: { word: 'kept', text: 'The photograph is kept, without what the camera wrote beside it.' },
  'photograph-removed': {
    word: 'removed',
    text: 'The photograph is gone; the trail says that there was one.',
  },
};

/** A plate's page, section by section, for whoever may see it. */
export async function sendPlate(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  tried: PlateTried,
): Promise<FastifyReply> {
  const { seen, noReport } = await plateOnView(request, house);
  const { plate, revision, report } = seen;
  const { errors = {} } = tried;
  const errorSummary = tried.errorSummary ?? summaryOfPlateForm(errors);
  const notice = JUST_DONE[justDone(request, reply, house) ?? ''];
  const sections = {
    worse: await worseSection(seen),
    report: reportSection(seen, noReport),
    booking: bookingSection(seen),
    clearance: await clearanceSection(seen),
    revisions: revisionsSection(seen),
    photographs: await photographsSection(seen, tried.photograph?.caption, tried.photograph?.error),
    rack: await rackSection(seen, tried.rack),
    rename: nameSection(seen, tried.name, errors.name),
    newRevision: await newRevisionSection(seen, tried.revision, errors),
  };
  return sendSheet(
    request,
    reply,
    house,
    'plates/plate',
    {
      title: plate.name,
      kicker: `Plate, revision ${revision.revision} of ${plate.latestRevision}`,
      current: 'plates',
      place: seen.rules.makerspaceName,
      firstAngle: report !== undefined,
      ...(report && { titleBlock: titleBlockOf(seen, report) }),
      notices: [...(notice ? [notice] : []), ...(report ? await damageNotices(house, report.done) : [])],
      ...(errorSummary && { errorSummary }),
    },
    { ...sections, ...(!isLatest(seen) && { older: olderLink(seen) }) },
  );
}

/** The id in the address. @throws Refused where it cannot be one of ours */
export function plateIdOf(request: FastifyRequest): string {
  const parsed = idSchema.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'plate' } });
  return parsed.data;
}

async function plateOnView(request: FastifyRequest, house: CheckingHouse) {
  const { database } = house;
  const actor = actorOf(request);
  const plate = accept(await visiblePlate(database, actor, plateIdOf(request)));
  const query = request.query as { readonly [field: string]: unknown };
  const [rules, revisions] = await Promise.all([
    rulesAt(database, house.now()),
    revisionsOf(database, plate.id),
  ]);
  const revision = revisionAsked(revisions, query.revision);
  const polymer = polymerAsked(query.polymer);
  const found = await reportSeen(house, revision, polymer, memberAsking(actor));
  const noReport = found instanceof Refusal ? found : undefined;
  const report = found instanceof Refusal ? undefined : found;
  const seen: PlateOnView = { house, actor, plate, revision, revisions, polymer, rules, report };
  return { seen, noReport };
}

function titleBlockOf(
  { plate, revision, rules }: PlateOnView,
  { done, checkedAt }: NonNullable<PlateOnView['report']>,
) {
  return checkTitleBlock(
    { facts: revision.facts, bolster: done.ground.bolster, check: done.check },
    {
      sheet: { label: 'Sheet', value: `${plate.name}, revision ${revision.revision}` },
      checkedAt: momentText(checkedAt, rules.timeZone),
    },
  );
}

function olderLink({ plate, polymer }: PlateOnView) {
  return { href: `/plates/${plate.id}?polymer=${polymer}`, text: olderText(plate.latestRevision) };
}

function revisionAsked(revisions: readonly Revision[], asked: unknown): Revision {
  const found = asked === undefined ? revisions[0] : revisions.find((one) => String(one.revision) === asked);
  if (found === undefined) throw refused('not-found', { figures: { what: 'revision' } });
  return found;
}

function polymerAsked(asked: unknown): string {
  return typeof asked === 'string' && asked !== '' ? accept(polymerNamed(asked)) : 'PP';
}
