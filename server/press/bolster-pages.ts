import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { DRAWING_BYTES_MAX } from '../http/dxf-text.js';
import { summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { leadOn } from '../http/told-once.js';
import { may } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import { DAMAGE_WORDS } from '../words/en/damage.js';
import { momentText } from '../words/en/times.js';
import { addAnotherBolster } from './add-another-bolster.js';
import { type BolsterDraft, draftOf, looked } from './bolster-draft.js';
import { fieldsOfBolster, readName, readWhy } from './bolster-form/bolster-form.js';
import {
  BOLSTER_LABELS,
  bolsterCells,
  bolsterFactLines,
  bolsterHistory,
  drawBolster,
  holeRows,
  openingLines,
} from './bolster-sheet.js';
import { bolsterChangeRows } from './change-rows.js';
import { sendGroundPreview } from './ground-preview.js';
import { bolsterAhead, mountingAhead } from './look-ahead.js';
import { mountBolster } from './mount-bolster.js';
import { onlyEditors } from './only-editors.js';
import type { BolsterDamage, PressHouse } from './press-house.js';
import { doneNotices } from './press-notices.js';
import { reviseBolster } from './revise-bolster.js';
import { type Bolster, bolsterById, bolsters, mountedBolster } from './store.js';
import { bolsterVersions } from './version-store.js';

/** More cells than other forms have, and one drawing. */
const FIELDS_MAX = 60;
const TAKES_DRAWING = {
  multipartOptions: {
    throwFileSizeLimit: false,
    limits: { files: 1, fields: FIELDS_MAX, parts: FIELDS_MAX + 1, fileSize: DRAWING_BYTES_MAX },
  },
};

/** Bolsters: what they are, drawn as one types, their versions, and which one is in the press. */
export function bolsterPages(pages: FastifyInstance, house: PressHouse): void {
  const { database, now } = house;

  pages.get('/bolsters/new', async (request, reply) => {
    onlyEditors(request);
    const like = await bolsterNamed(house, (request.query as { like?: unknown }).like);
    const given = like === undefined ? {} : fieldsOfBolster(like.facts);
    return showForm(request, reply, house, undefined, looked({ ...given, name: '' }).given);
  });

  pages.post('/bolsters/new', { config: TAKES_DRAWING }, async (request, reply) => {
    onlyEditors(request);
    const draft = await draftOf(request, house);
    if (!isLastStep(request.body)) return showDraft(request, reply, house, undefined, draft);
    const [name, why] = [readName(request.body), readWhy(request.body)];
    const errors = { ...draft.errors, ...name.errors, ...why.errors };
    if (draft.facts === undefined || name.value === undefined || why.value === undefined) {
      return showDraft(request, reply, house, undefined, withErrors(draft, errors));
    }
    const { facts } = draft;
    const actor = actorOf(request);
    const added = { facts, name: name.value.name, why: why.value.why };
    const outcome = await transact(database, (tx) => addAnotherBolster({ actor, now: now(), tx }, added));
    if (!(outcome instanceof Refusal)) {
      return leadOn(reply, house, actor, { what: 'added', path: `/bolsters/${outcome}` });
    }
    const errorSummary = summaryOfRefusal(outcome);
    return showDraft(request, reply.code(outcome.status), house, undefined, { ...draft, errorSummary });
  });

  pages.get('/bolsters/:id', async (request, reply) => showBolster(request, reply, house));

  pages.get('/bolsters/:id/change', async (request, reply) => {
    onlyEditors(request);
    const bolster = await bolsterOf(request, house);
    const given = { ...fieldsOfBolster(bolster.facts), basedOn: String(bolster.version) };
    return showForm(request, reply, house, bolster, given);
  });

  pages.post('/bolsters/:id/change', { config: TAKES_DRAWING }, async (request, reply) => {
    onlyEditors(request);
    const bolster = await bolsterOf(request, house);
    const draft = await draftOf(request, house);
    if (!isLastStep(request.body)) return showDraft(request, reply, house, bolster, draft);
    const why = readWhy(request.body);
    if (draft.facts === undefined || why.value === undefined) {
      return showDraft(request, reply, house, bolster, withErrors(draft, { ...draft.errors, ...why.errors }));
    }
    const wanted = { bolsterId: bolster.id, facts: draft.facts, basedOn: Number(draft.given.basedOn) };
    const ahead = await bolsterAhead(house, actorOf(request), wanted);
    if (ahead instanceof Refusal) {
      const errorSummary = summaryOfRefusal(ahead);
      return showDraft(request, reply.code(ahead.status), house, bolster, { ...draft, errorSummary });
    }
    return sendGroundPreview(request, reply, house, {
      kicker: `${bolster.name}, version ${bolster.version}`,
      action: `/bolsters/${bolster.id}/versions`,
      back: `/bolsters/${bolster.id}/change`,
      keep: 'Keep this version',
      isMounted: bolster.mounted,
      changes: bolsterChangeRows(bolster.facts, draft.facts),
      foreseen: ahead.foreseen,
      fields: { ...draft.given, why: why.value.why },
      pictures: [
        { caption: 'Before', picture: drawBolster(bolster.facts) },
        { caption: 'After', picture: drawBolster(draft.facts) },
      ],
    });
  });

  pages.post('/bolsters/:id/versions', async (request, reply) => {
    onlyEditors(request);
    const bolster = await bolsterOf(request, house);
    const draft = looked(request.body as object);
    const why = readWhy(request.body);
    if (draft.facts === undefined || why.value === undefined) {
      return showDraft(request, reply, house, bolster, withErrors(draft, { ...draft.errors, ...why.errors }));
    }
    const actor = actorOf(request);
    const wanted = { bolsterId: bolster.id, facts: draft.facts, basedOn: Number(draft.given.basedOn) };
    const ahead = await bolsterAhead(house, actor, wanted);
    const { why: reason } = why.value;
    const outcome =
      ahead instanceof Refusal
        ? ahead
        : await transact(database, (tx) =>
            reviseBolster(
              { actor, now: now(), tx },
              { ...wanted, why: reason },
              ahead.foreseen,
              house.listeners,
            ),
          );
    if (!(outcome instanceof Refusal)) {
      return leadOn(reply, house, actor, { what: 'revised', path: `/bolsters/${bolster.id}` });
    }
    const errorSummary = summaryOfRefusal(outcome);
    return showDraft(request, reply.code(outcome.status), house, bolster, { ...draft, errorSummary });
  });

  pages.get('/bolsters/:id/mounting', async (request, reply) => {
    onlyEditors(request);
    const bolster = await bolsterOf(request, house);
    const insteadOf = (await mountedBolster(database))?.id ?? null;
    return showMounting(request, reply, house, bolster, { insteadOf });
  });

  pages.post('/bolsters/:id/mounting', async (request, reply) => {
    onlyEditors(request);
    const bolster = await bolsterOf(request, house);
    const { given, value, errors } = readWhy(request.body);
    const insteadOf = given.insteadOf === undefined || given.insteadOf === '' ? null : given.insteadOf;
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors, BOLSTER_LABELS);
      return showMounting(request, reply.code(422), house, bolster, { insteadOf, errors, errorSummary });
    }
    const actor = actorOf(request);
    const wanted = { bolsterId: bolster.id, insteadOf, why: value.why };
    const ahead = await mountingAhead(house, actor, wanted);
    const outcome =
      ahead instanceof Refusal
        ? ahead
        : await transact(database, (tx) =>
            mountBolster({ actor, now: now(), tx }, wanted, ahead.foreseen, house.listeners),
          );
    if (outcome instanceof Refusal) throw new Refused(outcome);
    return leadOn(reply, house, actor, { what: 'mounted', path: `/bolsters/${bolster.id}` });
  });
}

/** True for the button that goes on, instead of looking again. */
function isLastStep(body: unknown): boolean {
  return (body as { readonly do?: unknown }).do === 'keep';
}

function withErrors(draft: BolsterDraft, errors: BolsterDraft['errors']): BolsterDraft {
  if (Object.keys(errors).length === 0) return draft;
  return { ...draft, errors, errorSummary: summaryOfErrors(errors, BOLSTER_LABELS) };
}

async function bolsterNamed(house: PressHouse, given: unknown): Promise<Bolster | undefined> {
  const parsed = id.safeParse(given);
  return parsed.success ? bolsterById(house.database, parsed.data) : undefined;
}

async function bolsterOf(request: FastifyRequest, house: PressHouse): Promise<Bolster> {
  const bolster = await bolsterNamed(house, (request.params as { id?: unknown }).id);
  if (bolster === undefined) throw refused('not-found', { figures: { what: 'bolster' } });
  return bolster;
}

async function showBolster(request: FastifyRequest, reply: FastifyReply, house: PressHouse) {
  const bolster = await bolsterOf(request, house);
  const { facts, name, version, mounted } = bolster;
  const [rules, versions, open] = await Promise.all([
    rulesAt(house.database, house.now()),
    bolsterVersions(house.database, bolster.id),
    house.openDamage(bolster.id),
  ]);
  const { timeZone } = rules;
  const history = bolsterHistory(versions, timeZone);
  const mayEdit = may(actorOf(request), 'press-edit');
  return sendSheet(
    request,
    reply,
    house,
    'press/bolster',
    {
      title: name,
      kicker: mounted ? 'Bolster, in the press' : 'Bolster, beside the press',
      current: 'press',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: `Bolster, ${name}` },
        { label: 'Version', value: String(version) },
        { label: 'Made', value: history[0]?.when ?? '' },
        { label: 'Seen', value: 'on the moving half, from the sprue axis, mm' },
      ],
      notices: doneNotices(request, reply, house),
    },
    {
      id: bolster.id,
      mounted,
      mayEdit,
      mayMount: mayEdit && !mounted,
      picture: drawBolster(facts, [], damageMarks(open)),
      damage: open.map((one, i) => damageRow(one, i + 1, timeZone)),
      facts: bolsterFactLines(facts),
      holes: holeRows(facts),
      openings: openingLines(facts),
      history,
    },
  );
}

/** Damage as it is numbered in the picture. */
function damageMarks(open: readonly BolsterDamage[]) {
  return open.map(({ xMm, yMm }, i) => ({ words: String(i + 1), at: { x: xMm, y: yMm } }));
}

function damageRow(one: BolsterDamage, number: number, timeZone: string) {
  return {
    number,
    href: `/damage/${one.id}`,
    what: one.what,
    where: DAMAGE_WORDS.where(one.half, one.xMm, one.yMm),
    by: `${one.reportedByName}, ${momentText(one.reportedAt, timeZone)}`,
  };
}

async function showDraft(
  request: FastifyRequest,
  reply: FastifyReply,
  house: PressHouse,
  bolster: Bolster | undefined,
  draft: BolsterDraft,
) {
  const isWrong = draft.errorSummary !== undefined && reply.statusCode === 200;
  return showForm(request, isWrong ? reply.code(422) : reply, house, bolster, draft.given, draft);
}

async function showForm(
  request: FastifyRequest,
  reply: FastifyReply,
  house: PressHouse,
  bolster: Bolster | undefined,
  given: BolsterDraft['given'],
  draft: BolsterDraft = { ...looked(given), errors: {} },
) {
  const { errors, errorSummary, facts, wrong, found } = draft;
  const fresh = errorSummary === undefined || request.method === 'GET';
  const others = bolster === undefined ? await bolsters(house.database) : [];
  return sendSheet(
    request,
    reply,
    house,
    'press/bolster-form',
    {
      title: bolster === undefined ? 'Add a bolster' : `Change ${bolster.name}`,
      kicker: bolster === undefined ? 'The press' : `Bolster, version ${bolster.version}`,
      current: 'press',
      ...(!fresh && errorSummary && { errorSummary }),
    },
    {
      action: bolster === undefined ? '/bolsters/new' : `/bolsters/${bolster.id}/change`,
      isNew: bolster === undefined,
      likes: others.map(({ id: like, name }) => ({ href: `/bolsters/new?like=${like}`, name })),
      ...bolsterCells({ given, errors }),
      name: given.name ?? '',
      why: given.why ?? '',
      basedOn: given.basedOn ?? '',
      errors,
      found,
      ...(facts !== undefined && { picture: drawBolster(facts, wrong), holeCount: facts.holes.length }),
    },
  );
}

async function showMounting(
  request: FastifyRequest,
  reply: FastifyReply,
  house: PressHouse,
  bolster: Bolster,
  shown: {
    readonly insteadOf: string | null;
    readonly errors?: BolsterDraft['errors'];
    readonly errorSummary?: NonNullable<BolsterDraft['errorSummary']>;
  },
) {
  const { insteadOf, errors = {}, errorSummary } = shown;
  const wanted = { bolsterId: bolster.id, insteadOf };
  const ahead = await mountingAhead(house, actorOf(request), wanted);
  if (ahead instanceof Refusal) throw new Refused(ahead);
  const before = insteadOf === null ? undefined : await bolsterById(house.database, insteadOf);
  return sendGroundPreview(request, reply, house, {
    title: `Mount ${bolster.name}`,
    kicker: before === undefined ? 'Nothing is in the press' : `Instead of ${before.name}`,
    action: `/bolsters/${bolster.id}/mounting`,
    back: `/bolsters/${bolster.id}`,
    keep: `It is mounted: ${bolster.name}`,
    isMounted: true,
    asksWhy: true,
    errors,
    ...(errorSummary && { errorSummary }),
    changes: before === undefined ? [] : bolsterChangeRows(before.facts, bolster.facts),
    foreseen: ahead.foreseen,
    fields: { insteadOf: insteadOf ?? '' },
    pictures: [
      ...(before === undefined ? [] : [{ caption: before.name, picture: drawBolster(before.facts) }]),
      { caption: bolster.name, picture: drawBolster(bolster.facts) },
    ],
  });
}
