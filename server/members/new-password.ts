import type { House } from '../http/house.js';
import { type Refusal, refuse } from '../reasons.js';
import { hashPassword } from './password-hash.js';
import { passwordFault } from './password-rules.js';

/**
 * The hash of a password somebody chose, or why it is not taken. Hashing is slow on purpose: before a transaction,
 * never in one.
 *
 * @param about words of the member that it must not be made of
 */
export async function newPasswordHash(
  house: Pick<House, 'place'>,
  password: string,
  about: readonly (string | null)[],
): Promise<string | Refusal> {
  const words = [...about, await house.place()].filter((word) => word !== null);
  const fault = passwordFault(password, words);
  if (fault === undefined) return hashPassword(password);
  return refuse('password-weak', { field: 'password', figures: { fault } });
}
