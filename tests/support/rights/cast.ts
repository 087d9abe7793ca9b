import type { Actor, Role } from '../../../server/context.js';
import { hashPassword } from '../../../server/members/password-hash.js';
import { openSession } from '../../../server/members/session.js';
import { insertMember } from '../../../server/members/store.js';
import { writeToken } from '../../../server/members/token.js';
import type { TestHouse } from '../app.js';
import { TEST_PASSWORD } from '../sign-in.js';
import { giveSignOffs } from '../sign-offs.js';

/** Everybody there is, as far as rights go: the role, and whether a sign-off for stewarding stands. */
export const CAST = {
  member: { role: 'member', stewards: false },
  'steward without a sign-off': { role: 'steward', stewards: false },
  steward: { role: 'steward', stewards: true },
  'admin without a sign-off': { role: 'admin', stewards: false },
  admin: { role: 'admin', stewards: true },
} as const satisfies { readonly [who: string]: { readonly role: Role; readonly stewards: boolean } };

export type Who = keyof typeof CAST;

export interface Somebody extends Pick<Actor, 'memberId' | 'role' | 'stewards'> {
  readonly token: string;
}

let made = 0;
let passwordHash: Promise<string> | undefined;

/** A member with a role, without a session. */
export async function newMember(house: TestHouse, role: Role): Promise<string> {
  made += 1;
  passwordHash ??= hashPassword(TEST_PASSWORD);
  return insertMember(house.database, {
    email: `cast-${made}@gullwing.example`,
    displayName: `Cast ${made}`,
    role,
    passwordHash: await passwordHash,
    createdAt: house.clock.now(),
  });
}

/** One of the cast, new and signed in. */
export async function somebody(house: TestHouse, who: Who): Promise<Somebody> {
  const { role, stewards } = CAST[who];
  const memberId = await newMember(house, role);
  if (stewards) await giveSignOffs(house.database, memberId, ['stewarding']);
  const session = await openSession(house.database, memberId, house.clock.now(), house.settings);
  return { memberId, role, stewards, token: writeToken(house.app, memberId, session) };
}
