import fastifyJwt from '@fastify/jwt';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { OpenedSession } from './session.js';

const ISSUER = 'platenshare';
const AUDIENCE = 'platenshare-members';
const TYPE = 'platenshare-session+jwt';

const claims = z.object({ sub: z.uuid(), sid: z.string().min(43).max(64), exp: z.number() });

export type Claims = z.infer<typeof claims>;

/** Session tokens: HS256 and nothing else, of our own kind only (RFC 8725, 3.1, 3.8, 3.9, 3.11). */
export async function registerTokens(app: FastifyInstance, secret: string): Promise<void> {
  await app.register(fastifyJwt, {
    secret,
    sign: { algorithm: 'HS256', iss: ISSUER, aud: AUDIENCE, header: { alg: 'HS256', typ: TYPE } },
    verify: {
      algorithms: ['HS256'],
      allowedIss: ISSUER,
      allowedAud: AUDIENCE,
      checkTyp: TYPE,
      requiredClaims: ['sub', 'sid', 'exp', 'iss', 'aud'],
    },
  });
}

/** A token that carries member and session, and nothing that could go stale. */
export function writeToken(app: FastifyInstance, memberId: string, session: OpenedSession): string {
  return app.jwt.sign({
    sub: memberId,
    sid: session.sid,
    iat: Math.floor(session.createdAt.getTime() / 1000),
    exp: Math.floor(session.expiresAt.getTime() / 1000),
  });
}

/** What a token says, or `undefined` when it is not one of ours or has run out. */
export function readToken(app: FastifyInstance, token: string, now: Date): Claims | undefined {
  try {
    return claims.parse(app.jwt.verify(token, { clockTimestamp: now.getTime() }));
  } catch {
    return undefined;
  }
}
