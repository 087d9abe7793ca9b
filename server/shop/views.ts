import type { z } from 'zod';
import { wordReason } from '../words/index.js';
import type { AboveQuota } from './above-quota.js';
import type { Closure } from './closure-store.js';
import type { Foreseen } from './foreseen.js';
import type { Proposal } from './propose-rules.js';
import type { closureReply, foreseenReply, rulesPreviewReply, rulesReply } from './schemas.js';
import type { RulesVersion } from './store.js';

export function rulesView({
  version,
  validFrom,
  validUntil,
  setBy,
  rules,
}: RulesVersion): z.output<typeof rulesReply> {
  return { version, validFrom, validUntil, setBy, rules };
}

/** What a change does, on the wire. */
export function previewView(
  { changed, validFrom, validUntil }: Proposal,
  foreseen: Foreseen,
  basedOn: number,
  aboveQuota: readonly AboveQuota[],
): z.output<typeof rulesPreviewReply> {
  return {
    basedOn,
    validFrom,
    validUntil,
    changed: [...changed],
    aboveQuota: [...aboveQuota],
    ...foreseenOnWire(foreseen),
  };
}

/** What a change does to what stands, on the wire. */
export function foreseenOnWire({ bookings, plates }: Foreseen): z.output<typeof foreseenReply> {
  return {
    bookings: bookings.map(({ bookingId, displayName, startsAt, endsAt, reasons }) => ({
      bookingId,
      displayName,
      startsAt,
      endsAt,
      reasons: reasons.map((reason) => ({ code: reason.code, ...wordReason(reason) })),
    })),
    plates: plates.map(({ plateId, plateName, displayName, revision, polymer, before, after, worse }) => ({
      plateId,
      plateName,
      displayName,
      revision,
      polymer,
      before,
      after,
      worse: [...worse],
    })),
  };
}

export function closureView(closure: Closure): z.output<typeof closureReply> {
  const { id, startsAt, endsAt, note, madeBy, createdAt, liftedAt } = closure;
  return { id, startsAt, endsAt, note, madeBy, createdAt, liftedAt };
}
