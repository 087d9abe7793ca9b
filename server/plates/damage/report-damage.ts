import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import type { Bounds } from '../../engineering/geometry/bounds.js';
import { standingStewards } from '../../inductions/sign-off-store.js';
import { refusalUnless } from '../../members/permissions.js';
import { notify } from '../../notices/notify.js';
import { faceBounds } from '../../pictures/plate-on-bolster.js';
import { bolsterById } from '../../press/store.js';
import { Refusal, refuse } from '../../reasons.js';
import { sketchAt } from '../library/sketch-store.js';
import type { DevelopedPhotograph } from '../photographs/develop-photograph.js';
import { keepPhotograph } from '../photographs/keep-photograph.js';
import { plateToRevise } from '../store.js';
import { type DamageOf, type Half, insertDamage } from './store.js';

export interface DamageTold {
  readonly about: { readonly bolsterId: string; readonly half: Half } | { readonly plateId: string };
  /** From the sprue axis or the feed; mm, to the right and up. */
  readonly xMm: number;
  readonly yMm: number;
  readonly what: string;
  /** What `developPhotograph` made of the bytes that came, before this transaction began. */
  readonly photograph: DevelopedPhotograph | null;
}

/** What is damaged, as far as its place and who hears of it are concerned. */
interface Damaged {
  readonly of: DamageOf;
  readonly name: string;
  /** In a picture's axes, y down; undefined where the drawing cannot be read. */
  readonly bounds: Bounds | undefined;
  readonly tellIds: readonly string[];
}

/** Longer captions are cut: the report itself says it whole. */
const CAPTION_MAX = 200;

/** A scratch at the very edge is still on it. */
const EDGE_MM = 1;

/** Keeps what somebody found damaged, and tells the stewards, of a plate its owner too. */
export async function reportDamage(ctx: Ctx, told: DamageTold): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const damaged = 'plateId' in told.about ? await plateOf(ctx, told.about) : await bolsterOf(ctx, told.about);
  if (damaged instanceof Refusal) return damaged;
  const { of, bounds, name } = damaged;
  const off = bounds === undefined ? undefined : refusalOff(told, bounds, 'plateId' in of ? 'plate' : 'face');
  if (off !== undefined) return off;
  const photographId =
    told.photograph === null
      ? null
      : await keepPhotograph(ctx, {
          photograph: told.photograph,
          about: 'plateId' in of ? of : { bolsterId: of.bolsterId },
          caption: told.what.slice(0, CAPTION_MAX),
          ofDamage: true,
        });
  if (photographId instanceof Refusal) return photographId;
  const { xMm, yMm, what } = told;
  const made = { xMm, yMm, what, photographId, reportedBy: actor.memberId, reportedAt: now };
  const damageId = await insertDamage(tx, of, made);
  const subject =
    'plateId' in of
      ? { subjectKind: 'plate', subjectId: of.plateId, details: { damageId, revision: of.revision } }
      : { subjectKind: 'bolster', subjectId: of.bolsterId, details: { damageId, name, half: of.half } };
  await recordAudit(tx, { at: now, actorId: actor.memberId, action: 'damage-reported', ...subject });
  await notify(tx, {
    kind: 'damage-reported',
    memberIds: [...new Set(damaged.tellIds)].filter((id) => id !== actor.memberId),
    aboutId: actor.memberId,
    figures: { name },
    href: `/damage/${damageId}`,
    at: now,
  });
  return damageId;
}

async function plateOf(
  { actor, now, tx }: Ctx,
  { plateId }: { readonly plateId: string },
): Promise<Damaged | Refusal> {
  const plate = await plateToRevise(tx, plateId);
  if (plate === undefined) return refuse('not-found', { figures: { what: 'plate' } });
  const seen = { by: 'plate-see', what: 'plate' } as const;
  const forbidden = refusalUnless(actor, 'plate-damage-report', plate, seen);
  if (forbidden !== undefined) return forbidden;
  const { latestRevision: revision, name, ownerId } = plate;
  const bounds = await sketchAt(tx, plateId, revision);
  return {
    of: { plateId, revision },
    name,
    bounds,
    tellIds: [ownerId, ...(await standingStewards(tx, now))],
  };
}

async function bolsterOf(
  { actor, now, tx }: Ctx,
  about: { readonly bolsterId: string; readonly half: Half },
): Promise<Damaged | Refusal> {
  const bolster = await bolsterById(tx, about.bolsterId);
  if (bolster === undefined) return refuse('not-found', { figures: { what: 'bolster' } });
  const forbidden = refusalUnless(actor, 'bolster-damage-report', {});
  if (forbidden !== undefined) return forbidden;
  const tellIds = await standingStewards(tx, now);
  return { of: about, name: bolster.name, bounds: faceBounds(bolster.facts), tellIds };
}

/** Nothing is damaged beside what it is on. */
function refusalOff(
  { xMm, yMm }: Pick<DamageTold, 'xMm' | 'yMm'>,
  { minX, minY, maxX, maxY }: Bounds,
  what: 'plate' | 'face',
): Refusal | undefined {
  const isOff = (value: number, least: number, most: number) =>
    value < least - EDGE_MM || value > most + EDGE_MM;
  const figures = (least: number, most: number) => ({ what, least: round(least), most: round(most) });
  if (isOff(xMm, minX, maxX)) return refuse('damage-beside', { field: 'xMm', figures: figures(minX, maxX) });
  if (isOff(yMm, -maxY, -minY)) {
    return refuse('damage-beside', { field: 'yMm', figures: figures(-maxY, -minY) });
  }
  return undefined;
}

function round(mm: number): number {
  return Math.round(mm * 10) / 10 + 0;
}
