import { z } from 'zod';
import { pageOf } from '../http/cursor.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { text } from '../http/text.js';
import { REASON_CODES } from '../reasons.js';
import { RULE_NAMES, ruleFields } from './rules.js';

export const rulesBody = z.strictObject({
  changes: ruleFields
    .partial()
    .strict()
    .meta({ description: 'Only what is to be different; the rest stays as it would be then.' }),
  validFrom: instant.optional().meta({ description: 'From now on when left out; never in the past.' }),
  basedOn: z
    .int()
    .optional()
    .meta({ description: 'Latest version when the change was looked at; refused when it no longer is.' }),
});

const rulesVersion = z
  .object({
    version: z.int(),
    validFrom: instant,
    validUntil: instant.nullable().meta({ description: 'When the next version takes over, as known now.' }),
    setBy: z.string().nullable(),
    rules: ruleFields,
  })
  .meta({ id: 'ShopRules' });

export const rulesReply = rulesVersion;
export const rulesListReply = z.object({ items: z.array(rulesVersion), next: z.null() });

const verdict = z.enum(['clear', 'caution', 'stop', 'unknown']);

/** What a change does to what stands: bookings that no longer fit, plates that get another verdict. */
export const foreseenReply = z.object({
  bookings: z.array(
    z.object({
      bookingId: id,
      displayName: z.string(),
      startsAt: instant,
      endsAt: instant,
      reasons: z.array(z.object({ code: z.enum(REASON_CODES), message: z.string(), fix: z.string() })),
    }),
  ),
  plates: z.array(
    z.object({
      plateId: id,
      plateName: z.string(),
      displayName: z.string().meta({ description: 'Who has booked it, or else whose it is.' }),
      revision: z.int(),
      polymer: z.string(),
      before: verdict,
      after: verdict.nullable().meta({ description: 'Null where there was no time to look.' }),
      worse: z
        .array(z.object({ check: z.string(), before: verdict, after: verdict }))
        .meta({ description: 'Checks that would say worse.' }),
    }),
  ),
});

export const rulesPreviewReply = foreseenReply
  .extend({
    basedOn: z.int(),
    validFrom: instant,
    validUntil: instant.nullable(),
    changed: z.array(z.enum(RULE_NAMES as [string, ...string[]])),
    aboveQuota: z
      .array(
        z.object({
          memberId: id,
          displayName: z.string(),
          month: z.string().nullable().meta({ description: 'Null: of the quota of what is still to come.' }),
          hours: z.number(),
          limitHours: z.number(),
        }),
      )
      .meta({
        description: 'Who would hold more than a changed quota gives; they keep it, and book no more.',
      }),
  })
  .meta({ id: 'ShopRulesPreview' });

export const closureBody = z.strictObject({
  startsAt: instant.optional().meta({ description: 'From now on when left out.' }),
  endsAt: instant,
  note: text(200).meta({ description: 'Why, for everybody to read.' }),
});

export const closureReply = z
  .object({
    id,
    startsAt: instant,
    endsAt: instant,
    note: z.string(),
    madeBy: z.string().nullable(),
    createdAt: instant,
    liftedAt: instant.nullable(),
  })
  .meta({ id: 'Closure' });

export const closuresReply = pageOf(closureReply);
