import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { text } from '../http/text.js';
import { leadOn } from '../http/told-once.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { dateText, monthsText, INDUCTION_FORM_ERRORS as WRONG } from '../words/en/inductions.js';
import { contentsOf } from './contents-of.js';
import { blockViews } from './part-view.js';
import { signOff } from './sign-off.js';
import { standingSignOff } from './standing.js';
import { inductionVersion, openRequests, requestById, type WitnessRequest } from './store.js';

/** Who waits for a witness, the longest first. */
export async function showWaiting(request: FastifyRequest, reply: FastifyReply, house: House) {
  const actor = actorOf(request);
  mustWitness(request, 'anybody');
  const zone = await house.timeZone();
  const waiting = (await openRequests(house.database)).filter(({ memberId }) => memberId !== actor.memberId);
  return sendSheet(
    request,
    reply,
    house,
    'inductions/waiting',
    { title: 'Waiting for a witness', kicker: 'Inductions', current: 'inductions' },
    {
      rows: waiting.map((one, i) => ({
        number: i + 1,
        name: `${one.displayName}: ${one.title}`,
        more: one.note ?? '',
        when: `since ${dateText(one.askedAt, zone)}`,
        href: `/inductions/witness/${one.id}`,
        button: 'Witness',
      })),
    },
  );
}

/** The witness's sheet: what is to be seen done, item by item. */
export async function showWitness(request: FastifyRequest, reply: FastifyReply, house: House) {
  return sendWitness(request, reply, house, { ticked: new Set(), note: '', eighteen: false });
}

/** Signs off what was seen, all of it, or shows the sheet again with what is missing. */
export async function postSignOff(request: FastifyRequest, reply: FastifyReply, house: House) {
  const { waits, checklist } = await requestAsked(request, house);
  const fields = (request.body ?? {}) as Record<string, unknown>;
  const ticked = new Set(checklist.flatMap((_item, i) => (fields[`item${i}`] === 'on' ? [i] : [])));
  const given: Shown = {
    ticked,
    note: typeof fields.note === 'string' ? fields.note : '',
    eighteen: fields.eighteen === 'on',
  };
  const errors = errorsIn(given, checklist.length);
  if (Object.keys(errors).length > 0) {
    const errorSummary = summaryOfErrors(errors);
    return sendWitness(request, reply.code(422), house, { ...given, errors, errorSummary });
  }
  const refreshes = id.safeParse(fields.refreshes).data ?? null;
  const outcome = await transact(house.database, async (tx) => {
    const still = await requestById(tx, waits.id);
    if (still?.closedAt !== null) return refuse('witness-not-asked');
    return signOff({ actor: actorOf(request), now: house.now(), tx }, house.listeners.signOffGiven, {
      memberId: waits.memberId,
      competence: waits.competence,
      note: given.note.trim() === '' ? null : given.note.trim(),
      requestId: waits.id,
      eighteenOrOlder: given.eighteen,
      witnessed: checklist,
      refreshes,
    });
  });
  if (!(outcome instanceof Refusal)) {
    return leadOn(reply, house, actorOf(request), {
      what: 'signed',
      path: `/inductions/history/${waits.memberId}`,
    });
  }
  const errorSummary = summaryOfRefusal(outcome);
  return sendWitness(request, reply.code(outcome.status), house, { ...given, errorSummary });
}

interface Shown {
  readonly ticked: ReadonlySet<number>;
  readonly note: string;
  readonly eighteen: boolean;
  readonly errors?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

function errorsIn({ ticked, note, eighteen }: Shown, items: number): { readonly [field: string]: string } {
  const firstOpen = Array.from({ length: items }, (_, i) => i).find((i) => !ticked.has(i));
  return {
    ...(firstOpen !== undefined && { [`item${firstOpen}`]: WRONG.checklist(items - ticked.size) }),
    ...(!eighteen && { eighteen: WRONG.eighteen }),
    ...(note.trim() !== '' && !text(1000).safeParse(note).success && { note: WRONG.note }),
  };
}

async function sendWitness(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const actor = actorOf(request);
  const { database, now, timeZone } = house;
  const { waits, induction, checklist } = await requestAsked(request, house);
  const { memberId, displayName, competence, title, version, askedAt, note } = waits;
  const at = now();
  const standing = await standingSignOff(database, memberId, competence, { from: at, through: at });
  const zone = await timeZone();
  return sendSheet(
    request,
    reply,
    house,
    'inductions/witness',
    {
      title: `${displayName}: ${title}`,
      kicker: 'Witness and sign off',
      current: 'inductions',
      titleBlock: [
        { label: 'Sheet', value: `Practical part: ${title}` },
        { label: 'Contents', value: `version ${version}` },
        { label: 'Witness', value: actor.displayName },
        { label: 'Valid for', value: monthsText(induction.refreshMonths) },
      ],
      ...(shown.errorSummary && { errorSummary: shown.errorSummary }),
    },
    {
      action: `/inductions/witness/${waits.id}`,
      facts: [
        { label: 'Who', value: displayName, strong: true },
        { label: 'Asked on', value: dateText(askedAt, zone) },
        ...(note === null ? [] : [{ label: 'Says', value: note }]),
        ...(standing === undefined
          ? []
          : [
              {
                label: 'Signed off',
                value: `until ${dateText(standing.validUntil, zone)}; yours follows it`,
              },
            ]),
      ],
      refreshes: standing?.id ?? '',
      blocks: blockViews(contentsOf(induction).practical.blocks),
      items: checklist.map((item, i) => ({
        id: `item${i}`,
        name: `item${i}`,
        value: 'on',
        text: item,
        checked: shown.ticked.has(i),
      })),
      eighteen: [
        {
          id: 'eighteen',
          name: 'eighteen',
          value: 'on',
          text: `${displayName} is eighteen or older`,
          more: 'I know it. No birth date is kept.',
          checked: shown.eighteen,
        },
      ],
      note: shown.note,
      errors: shown.errors ?? {},
      historyHref: `/inductions/history/${memberId}`,
    },
  );
}

async function requestAsked(request: FastifyRequest, { database }: House) {
  const parsed = id.safeParse((request.params as { id?: unknown }).id);
  const waits: WitnessRequest | undefined = parsed.success
    ? await requestById(database, parsed.data)
    : undefined;
  mustWitness(request, waits?.memberId ?? 'anybody');
  if (waits === undefined || waits.closedAt !== null) throw refused('witness-not-asked');
  const induction = await inductionVersion(database, waits.competence, waits.version);
  if (induction === undefined) throw refused('not-found', { figures: { what: 'induction' } });
  return { waits, induction, checklist: contentsOf(induction).practical.checklist };
}

/** @throws Refused for who may not witness this member: nobody witnesses themselves */
function mustWitness(request: FastifyRequest, ownerId: string): void {
  const actor = actorOf(request);
  if (actor.stewards && ownerId === actor.memberId) throw refused('signoff-oneself');
  const forbidden = refusalUnless(actor, 'induction-witness', { ownerId });
  if (forbidden !== undefined) throw new Refused(forbidden);
}
