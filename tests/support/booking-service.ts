import type { Database } from '../../server/database/database.js';
import { hashPassword } from '../../server/members/password-hash.js';
import { insertMember } from '../../server/members/store.js';
import { clearedReport, LONG_AGO, plainPlate } from './plain-rows.js';
import { TEST_PASSWORD } from './sign-in.js';
import { giveSignOffs } from './sign-offs.js';

/** Somebody who can book over HTTP. */
export interface Booker {
  readonly memberId: string;
  readonly plateId: string;
  readonly authorization: string;
}

/** Members with a password and a plate that may be booked, signed in at a service that runs on the database. */
export async function bookers(
  database: Database,
  serviceUrl: string,
  count: number,
): Promise<readonly Booker[]> {
  const passwordHash = await hashPassword(TEST_PASSWORD);
  return Promise.all(
    Array.from({ length: count }, async (_, i) => {
      const email = `booker-${i}@gullwing.example`;
      const displayName = `Booker ${i}`;
      const memberId = await insertMember(database, {
        email,
        displayName,
        role: 'member',
        passwordHash,
        createdAt: LONG_AGO,
      });
      await giveSignOffs(database, memberId);
      const plateId = await plainPlate(database, memberId);
      await clearedReport(database, plateId);
      const reply = await fetch(`${serviceUrl}/api/v1/session`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ email, password: TEST_PASSWORD }),
      });
      const { token } = (await reply.json()) as { token: string };
      return { memberId, plateId, authorization: `Bearer ${token}` };
    }),
  );
}
