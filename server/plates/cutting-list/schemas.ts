import { z } from 'zod';
import { STEPS_OF_WORK } from '../../engineering/machining/order-of-work.js';
import { ALLOYS, CUTTER_FORMS, MILLED_FEATURES } from '../../engineering/press-facts.js';

const mm = z.number();
const place = z.object({ x: mm, y: mm });
const cut = z.object({ feature: z.enum(MILLED_FEATURES), depthMm: mm });
const size = z.object({ widthMm: mm, heightMm: mm, thicknessMm: mm });

export const cuttingListReply = z
  .object({
    plateId: z.string(),
    revision: z.int(),
    alloy: z.enum(ALLOYS),
    blank: size.meta({ description: 'Stock, with what is to be faced and sawn off.' }),
    finished: size,
    allowanceMm: z.object({ edge: mm, face: mm }).meta({ description: 'On each edge and each face.' }),
    blankKg: z.number(),
    datum: place.meta({ description: 'The lower left corner, in the drawing.' }),
    feed: z.object({ fromDatum: place, diameterMm: mm, depthMm: mm }),
    cutters: z.array(
      z.object({
        number: z.int(),
        use: z.enum(['rough', 'finish']),
        form: z.enum(CUTTER_FORMS),
        diameterMm: mm.meta({ description: 'At the tip.' }),
        taperDeg: z.number().meta({ description: 'Each side against the axis.' }),
        stickOutMm: mm,
        depthToDiameter: z.number(),
        isLong: z.boolean().meta({ description: 'Deeper than one of that diameter usually reaches.' }),
        isGiven: z.boolean(),
        cuts: z.array(cut),
      }),
    ),
    holes: z.array(
      z.object({
        number: z.int(),
        kind: z.enum(['bolt', 'dowel']),
        at: place.meta({ description: 'In the drawing.' }),
        fromDatum: place,
        fromFeed: place,
        drillMm: mm,
        screw: z.object({ size: z.string(), lengthMm: mm }).nullable(),
        series: z.enum(['fine', 'medium', 'coarse']).nullable().meta({ description: 'Of ISO 273.' }),
        sink: z.object({ diameterMm: mm, depthMm: mm, drawn: z.boolean() }).nullable(),
      }),
    ),
    water: z.array(
      z.object({
        diameterMm: mm,
        depthMm: mm,
        lengthMm: mm,
        axis: z.array(place).meta({ description: 'Its ends and bends, from the datum corner.' }),
      }),
    ),
    depths: z.array(
      cut.extend({
        toleranceMm: mm.meta({ description: 'Shallower by so much.' }),
        deeperMm: mm.meta({ description: 'Deeper by so much: a vent never.' }),
        cornerRadiusMm: mm.nullable().meta({ description: 'What the cutter leaves in inside corners.' }),
        staysMm: mm,
      }),
    ),
    order: z.array(z.enum(STEPS_OF_WORK)),
    parallelMm: mm.meta({ description: 'What the four thickness readings may differ by.' }),
    notMachinable: z.array(cut),
  })
  .meta({ id: 'CuttingList' });
