import { stringify } from 'csv-stringify/sync';
import type { LineInvited } from './import-members.js';

/**
 * Links to hand out, as a table for a spreadsheet. What a spreadsheet would take for a formula is written so that
 * it does not: names and addresses came from outside.
 */
export function linksTable(invited: readonly LineInvited[], addressOf: (path: string) => string): string {
  const rows = invited.map(({ displayName, email, role, path, expiresAt }) => [
    displayName,
    email,
    role,
    addressOf(path),
    expiresAt.toISOString(),
  ]);
  return stringify([['name', 'email', 'role', 'link', 'works until'], ...rows], {
    bom: true,
    escape_formulas: true,
  });
}
