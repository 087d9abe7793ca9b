import { z } from 'zod';
import { pageOf, pageQuery } from '../http/cursor.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { text } from '../http/text.js';

const shots = z.int().min(1).max(100_000).meta({ description: 'How many shots are planned.' });
const polymer = z.string().trim().min(1).max(20).meta({ description: 'Polymer symbol, for instance PP.' });
const kind = z.enum(['trial', 'production']);

export const bookingBody = z
  .strictObject({
    plateId: id,
    revision: z.int().min(1).max(1_000_000),
    startsAt: instant,
    endsAt: instant,
    polymer: polymer.optional(),
    sackId: z.string().max(100).optional().meta({ description: 'Not taken yet: name the polymer.' }),
    shots: shots.optional(),
    bookingKind: kind.default('production'),
    granulate: z.boolean().default(false).meta({
      description:
        'Sprues and rejects are to be ground up afterwards; asks for the sign-off for the granulator.',
    }),
  })
  .superRefine(({ polymer: named, sackId }, context) => {
    if (sackId !== undefined) {
      const message = 'Sacks are not kept here yet: name the polymer instead.';
      context.addIssue({ code: 'custom', path: ['sackId'], message });
    } else if (named === undefined) {
      const message = 'Say which resin will be run, for instance PP.';
      context.addIssue({ code: 'custom', path: ['polymer'], message });
    }
  })
  .transform(({ sackId: _none, polymer: named = '', ...rest }) => ({ ...rest, polymer: named }));

export const moveBody = z
  .strictObject({ startsAt: instant.optional(), endsAt: instant.optional() })
  .refine(({ startsAt, endsAt }) => startsAt !== undefined || endsAt !== undefined, {
    error: 'Give startsAt, endsAt or both.',
  });

export const cancelBody = z.strictObject({ reason: text(500).optional() }).nullish();

export const bookingsQuery = pageQuery.extend({
  from: instant.optional().meta({ description: 'Only what ends after this instant; now when left out.' }),
  to: instant.optional().meta({ description: 'Only what starts before this instant.' }),
  pressId: id.optional(),
  mine: z.stringbool().optional().meta({ description: 'Own bookings, cancelled ones too, latest first.' }),
});

/** A booking as its owner and stewards see it; others see the first part only. */
export const bookingReply = z
  .object({
    id: z.string(),
    pressId: z.string(),
    startsAt: instant,
    endsAt: instant,
    equipment: z.array(z.string()),
    displayName: z.string(),
    polymer: z.string(),
    own: z.boolean(),
    memberId: z.string().optional(),
    plateId: z.string().optional(),
    plateName: z.string().optional(),
    revision: z.int().optional(),
    reportVerdict: z.string().optional(),
    bookingKind: kind.optional(),
    shots: z.int().nullable().optional(),
    granulate: z.boolean().optional(),
    clearanceId: z.string().nullable().optional(),
    status: z.enum(['booked', 'needs-attention', 'cancelled']).optional(),
    attention: z
      .array(z.object({ code: z.string(), message: z.string(), fix: z.string(), since: instant }))
      .optional()
      .meta({
        description: 'What it is missing of all that it was made with; empty while it lacks nothing.',
      }),
    createdAt: instant.optional(),
    cancelledAt: instant.nullable().optional(),
    cancelReason: z.string().nullable().optional(),
  })
  .meta({ id: 'Booking' });

export const bookingsReply = pageOf(bookingReply);
