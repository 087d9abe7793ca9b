import { createHash, randomBytes } from 'node:crypto';

const TOKEN_BYTES = 32;
const HOUR_MS = 3_600_000;

/** An invitation waits until its bearer has met the invited; a reset is handed to who stands there. */
const HOURS_GOOD = { invitation: 14 * 24, reset: 24 } as const;

export type LinkPurpose = keyof typeof HOURS_GOOD;

/** A link as it is handed over, once: afterwards nobody can be told it again. */
export interface HandedLink {
  readonly path: string;
  readonly tokenHash: string;
  readonly expiresAt: Date;
}

/** Makes a new link of 256 random bits. */
export function newLink(purpose: LinkPurpose, now: Date): HandedLink {
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  return {
    path: `/${purpose}/${token}`,
    tokenHash: hashOfToken(token),
    expiresAt: new Date(now.getTime() + HOURS_GOOD[purpose] * HOUR_MS),
  };
}

/** What the database keeps of a one-time link. */
export function hashOfToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}
