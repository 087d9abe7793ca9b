import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Actor } from '../../context.js';
import { actorOf } from '../../http/acting.js';
import { id as idSchema } from '../../http/id.js';
import { accept, Refused, refused } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import type { RulesInForce } from '../../shop/rules.js';
import { rulesAt } from '../../shop/store.js';
import type { ErrorSummaryView, NoticeView } from '../../views.js';
import { STEP_WORDS } from '../../words/en/clearance.js';
import { type CheckGround, checkGround } from '../check-ground.js';
import { type Plate, type Revision, revisionOf } from '../store.js';
import { visiblePlate } from '../visible-plate.js';
import type { ClearanceHouse } from './clearance-house.js';
import { refusalToDecide } from './decide.js';
import { type Standing, standingClearance } from './standing.js';
import type { Step } from './steps.js';

/** A plate in its latest revision, on a bolster: what every page of its clearance is about. */
export interface PlateOnBench {
  readonly house: ClearanceHouse;
  readonly actor: Actor;
  readonly plate: Plate;
  readonly revision: Revision;
  readonly ground: CheckGround;
  readonly rules: RulesInForce;
  readonly standing: Standing;
  /** Where its clearance is seen and decided. */
  readonly address: string;
}

/** The plate in the address, on the bolster that is asked for or the mounted one. @throws Refused */
export async function plateOnBench(request: FastifyRequest, house: ClearanceHouse): Promise<PlateOnBench> {
  const { database } = house;
  const actor = actorOf(request);
  const { id } = request.params as { readonly id?: unknown };
  const plateId = idSchema.safeParse(id).data;
  if (plateId === undefined) throw refused('not-found', { figures: { what: 'plate' } });
  const plate = accept(await visiblePlate(database, actor, plateId));
  const ground = accept(await checkGround(database, house.now(), bolsterAsked(request)));
  const revision = await revisionOf(database, plateId, plate.latestRevision);
  if (revision === undefined) throw new Error(`Plate ${plateId} has no revision ${plate.latestRevision}.`);
  const { id: bolsterId, version: bolsterVersion, mounted } = ground.bolster;
  const thing = { plateId, revision: plate.latestRevision, bolsterId, bolsterVersion };
  return {
    house,
    actor,
    plate,
    revision,
    ground,
    rules: await rulesAt(database, house.now()),
    standing: await standingClearance(database, thing),
    address: `/plates/${plateId}/clearance${mounted ? '' : `?bolsterId=${bolsterId}`}`,
  };
}

/** As `plateOnBench`, for who may decide about it. @throws Refused for anybody else */
export async function plateToDecide(request: FastifyRequest, house: ClearanceHouse): Promise<PlateOnBench> {
  const bench = await plateOnBench(request, house);
  const forbidden = refusalToDecide(bench.actor, bench.plate, bench.revision);
  if (forbidden !== undefined) throw new Refused(forbidden);
  return bench;
}

/** The address of a step's own sheet, or of what else is done there, on the same bolster. */
export function addressUnder(
  { address }: Pick<PlateOnBench, 'address'>,
  what: Step | 'void' | 'rework',
): string {
  return address.replace('/clearance', `/clearance/${what}`);
}

function bolsterAsked(request: FastifyRequest): string | null {
  const { bolsterId } = request.query as { readonly bolsterId?: unknown };
  if (bolsterId === undefined || bolsterId === '') return null;
  const parsed = idSchema.safeParse(bolsterId).data;
  if (parsed === undefined) throw refused('not-found', { figures: { what: 'bolster' } });
  return parsed;
}

/** The revision that was seen when a form was filled in: one that has been followed since is refused by the command. */
export function revisionSeen(request: FastifyRequest, { plate }: PlateOnBench): number {
  const { revision } = (request.body ?? {}) as { readonly revision?: unknown };
  const seen = Number(revision);
  return Number.isInteger(seen) && seen > 0 ? seen : plate.latestRevision;
}

interface BenchSheet {
  readonly step: Step | null;
  readonly template: string;
  readonly data: object;
  readonly firstAngle?: boolean;
  readonly notices?: readonly NoticeView[];
  readonly errorSummary?: ErrorSummaryView | undefined;
}

/** Sends a sheet about the plate on the bench: what it is, on which bolster, and its title block. */
export async function sendBench(
  request: FastifyRequest,
  reply: FastifyReply,
  bench: PlateOnBench,
  sheet: BenchSheet,
): Promise<FastifyReply> {
  const { plate, ground, rules, house, address } = bench;
  const what = sheet.step === null ? 'Clearance' : STEP_WORDS[sheet.step].name;
  return sendSheet(
    request,
    reply,
    house,
    sheet.template,
    {
      title: `${plate.name}: ${what.toLowerCase()}`,
      kicker: `Plate, revision ${plate.latestRevision}, on ${ground.bolster.name}`,
      current: 'plates',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: `${what}, ${plate.name}` },
        { label: 'Revision', value: String(plate.latestRevision), href: `/plates/${plate.id}` },
        { label: 'Bolster', value: `${ground.bolster.name}, version ${ground.bolster.version}` },
        { label: 'Shop rules', value: `version ${rules.version}`, href: '/shop-rules' },
      ],
      ...(sheet.firstAngle === true && { firstAngle: true }),
      ...(sheet.notices && { notices: sheet.notices }),
      ...(sheet.errorSummary && { errorSummary: sheet.errorSummary }),
    },
    {
      plateHref: `/plates/${plate.id}`,
      clearanceHref: address,
      revision: plate.latestRevision,
      ...sheet.data,
    },
  );
}
