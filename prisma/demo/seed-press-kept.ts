import { holdTouched, lookAtTime } from '../../server/bookings/look-again.js';
import type { Actor } from '../../server/context.js';
import type { Tx } from '../../server/database/transaction.js';
import { accept } from '../../server/http/refused.js';
import { recordInspection } from '../../server/press/inspections/record-inspection.js';
import { takeOut } from '../../server/press/outages/take-out.js';
import { addStackPart, type NewStackPart } from '../../server/press/stack-parts/add-stack-part.js';
import { dayOf, type Span } from '../../server/shop/opening-hours.js';
import { YARD_RULES } from './gullwing-yard.js';
import { INSPECTION } from './yard-week.js';

interface Acting {
  readonly actor: Actor;
  readonly now: Date;
  readonly tx: Tx;
}

/** The press was inspected when the yard opened it, some weeks ago, and is due a year after. */
export async function seedInspection({ now, ...ctx }: Acting): Promise<void> {
  const day = dayOf(now, YARD_RULES.timeZone).subtract({ days: 2 });
  accept(
    await recordInspection(
      { ...ctx, now },
      {
        inspectedOn: day.toString(),
        inspectedBy: 'Brackwater Press Inspection',
        intervalMonths: 12,
        note: 'Guards, interlocks, emergency stop, hoses and tie bars: in order. Rear guard hinge greased.',
      },
    ),
  );
}

const RACK: readonly NewStackPart[] = [
  {
    kind: 'packer',
    name: 'Packer 8 A',
    thicknessMm: 8,
    widthMm: 160,
    heightMm: 120,
    material: 'steel',
    parallelWithinMm: 0.02,
    place: 'Rack, shelf 2',
    note: 'Drilled through for the whole grid of Bolster 1.',
  },
  {
    kind: 'packer',
    name: 'Packer 4 A',
    thicknessMm: 4,
    widthMm: 160,
    heightMm: 120,
    material: 'steel',
    parallelWithinMm: 0.03,
    place: 'Rack, shelf 2',
    note: '',
  },
  {
    kind: 'facing',
    name: 'Facing 3 A',
    thicknessMm: 3,
    widthMm: 180,
    heightMm: 140,
    material: 'EN AW-6082-T6',
    parallelWithinMm: null,
    place: 'Rack, shelf 3',
    note: 'Has taken a few dents near one corner; measure before use.',
  },
];

/** What the yard lends of facing plates and packers. */
export async function seedRack(ctx: Acting): Promise<void> {
  for (const part of RACK) accept(await addStackPart(ctx, part));
}

/** The granulator is looked at for some hours. */
export async function seedOutOfService(ctx: Acting, span: Span): Promise<void> {
  const [granulator] = await ctx.tx.query<{ id: string }>(
    `select id from equipment where kind = 'granulator'`,
  );
  const wanted = { equipmentId: granulator?.id ?? '', ...span, reason: INSPECTION.note };
  accept(await takeOut(ctx, wanted, { serviceChanging: [holdTouched], outOfService: [lookAtTime] }));
}
