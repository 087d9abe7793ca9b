import { hash, verify } from '@node-rs/argon2';
import { refused } from '../http/refused.js';

/** OWASP Password Storage Cheat Sheet and ASVS 5.0 appendix C: argon2id with 19 MiB, two passes, one lane. */
const PARAMETERS = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

/** 19 MiB and a core each: no more at once than leaves the service answering. */
const AT_ONCE_MAX = 2;
const WAITING_MAX = 64;

/** Hashes at work and the calls that wait their turn. */
let atWork = 0;
const waiting: (() => void)[] = [];

/** A salted argon2id hash, in the PHC string format. */
export async function hashPassword(password: string): Promise<string> {
  return inTurn(() => hash(password, PARAMETERS));
}

/** Whether a password belongs to a hash. Without a hash it takes as long and says no. */
export async function isPasswordOf(passwordHash: string | null, password: string): Promise<boolean> {
  const against = passwordHash ?? (await nobodysHash());
  const fits = await inTurn(() => verify(against, password));
  return fits && passwordHash !== null;
}

/** True when a hash was made with weaker parameters than are used now. */
export function isOutdated(passwordHash: string): boolean {
  const { memoryCost, timeCost, parallelism } = PARAMETERS;
  const wanted = `$argon2id$v=19$m=${memoryCost},t=${timeCost},p=${parallelism}$`;
  return !passwordHash.startsWith(wanted);
}

let madeForNobody: Promise<string> | undefined;

/** A hash that no password is known for, made with today's parameters. */
function nobodysHash(): Promise<string> {
  madeForNobody ??= hashPassword(crypto.randomUUID());
  return madeForNobody;
}

async function inTurn<Result>(work: () => Promise<Result>): Promise<Result> {
  if (atWork >= AT_ONCE_MAX) {
    if (waiting.length >= WAITING_MAX) throw refused('service-busy');
    await new Promise<void>((turn) => waiting.push(turn));
  } else {
    atWork += 1;
  }
  try {
    return await work();
  } finally {
    const next = waiting.shift();
    if (next === undefined) atWork -= 1;
    else next();
  }
}
