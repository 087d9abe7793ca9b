import supertest from 'supertest';
import type { Role } from '../../server/context.js';
import { hashPassword } from '../../server/members/password-hash.js';
import { signedIn } from '../../server/members/schemas.js';
import { insertMember } from '../../server/members/store.js';
import type { TestHouse } from './app.js';
import { giveSignOffs, TO_BOOK } from './sign-offs.js';

export const TEST_PASSWORD = 'a plain long sentence';

/** One hash for every test member: hashing is slow on purpose. */
let testPasswordHash: Promise<string> | undefined;

export interface TestMember {
  readonly id: string;
  readonly email: string;
  readonly displayName: string;
}

let membersMade = 0;

/** Signed off for booking, and for stewarding where the role lets them. */
function usualSignOffs(role: Role): readonly string[] {
  return role === 'member' ? TO_BOOK : [...TO_BOOK, 'stewarding'];
}

/** Puts a member with `TEST_PASSWORD` into the house's database, signed off as their role usually is. */
export async function makeMember(
  house: TestHouse,
  role: Role = 'member',
  competences: readonly string[] = usualSignOffs(role),
): Promise<TestMember> {
  testPasswordHash ??= hashPassword(TEST_PASSWORD);
  membersMade += 1;
  const email = `${role}-${membersMade}@gullwing.example`;
  const displayName = `${role} ${membersMade}`;
  const passwordHash = await testPasswordHash;
  const createdAt = house.clock.now();
  const id = await insertMember(house.database, { email, displayName, role, passwordHash, createdAt });
  if (competences.length > 0) await giveSignOffs(house.database, id, competences);
  return { id, email, displayName };
}

/** Signs in over the API and gives the header that says so. */
export async function bearerOf(house: TestHouse, { email }: TestMember): Promise<{ authorization: string }> {
  const reply = await supertest(house.url)
    .post('/api/v1/session')
    .send({ email, password: TEST_PASSWORD })
    .expect(201);
  return { authorization: `Bearer ${signedIn.decode(reply.body).token}` };
}

/** A new member and their header at once. */
export async function signedInMember(
  house: TestHouse,
  role: Role = 'member',
  competences: readonly string[] = usualSignOffs(role),
) {
  const member = await makeMember(house, role, competences);
  return { member, headers: await bearerOf(house, member) };
}
