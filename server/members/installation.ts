import { createHash, randomBytes } from 'node:crypto';
import { isIP } from 'node:net';
import type { Database } from '../database/database.js';
import type { Queryable } from '../database/queryable.js';
import { type Tx, transact } from '../database/transaction.js';
import type { Settings } from '../settings.js';
import { hasMembers } from './store.js';

const SECRET_BYTES = 32;

/** A database this process must not serve; the message is for the operator. */
export class InstallationRefused extends Error {
  override readonly name = 'InstallationRefused';
}

export interface Installation {
  /** Path of the one-time page that makes the founding admin, while nobody is a member yet. */
  readonly firstRunPath: string | undefined;
  readonly demo: boolean;
}

/**
 * Makes sure that the database knows what it is: a demo, or a makerspace of its own. A new one becomes a demo
 * only where nobody can take it for real: embedded, reached by a loopback address alone, not in production.
 *
 * @param seedDemo fills an empty database in the same transaction; null where there is no demo to be had
 * @throws InstallationRefused when a demo database would be served to others than this machine
 */
export async function prepareInstallation(
  database: Database,
  settings: Settings,
  now: Date,
  seedDemo: ((tx: Tx, now: Date) => Promise<void>) | null,
): Promise<Installation> {
  return transact(database, async (tx) => {
    // Several processes may start on one new database.
    await tx.query(`select pg_advisory_xact_lock(hashtextextended('platenshare installation', 0))`);
    const [found] = await tx.query<{ demo: boolean }>('select demo from installation');
    const demo = found?.demo ?? (seedDemo !== null && mayBeDemo(settings) && !(await hasMembers(tx)));
    if (demo && (settings.production || !isAtHome(settings))) {
      throw new InstallationRefused(
        'This database holds the demo, with passwords that everybody knows. It is served only to this machine ' +
          'alone: HOST and PUBLIC_URL on a loopback address, TRUST_PROXY off, not in production. ' +
          'For others give an empty database: set DATABASE_URL or another DATA_DIR.',
      );
    }
    if (found === undefined) {
      const secret = randomBytes(SECRET_BYTES).toString('base64url');
      await tx.query('insert into installation (demo, token_secret, created_at) values ($1, $2, $3)', [
        demo,
        secret,
        now,
      ]);
      if (demo) await seedDemo?.(tx, now);
    }
    const firstRunPath = (await hasMembers(tx)) ? undefined : await newFirstRunPath(tx);
    return { firstRunPath, demo };
  });
}

function mayBeDemo(settings: Settings): boolean {
  const { databaseUrl, production, demo } = settings;
  return databaseUrl === undefined && !production && demo === 'auto' && isAtHome(settings);
}

/** A proxy in front, or a name that others can call, lets them in wherever the process itself listens. */
function isAtHome({ host, publicUrl, trustProxy }: Settings): boolean {
  const calledHere = publicUrl === undefined || isLoopback(hostOf(publicUrl));
  return isLoopback(host) && calledHere && trustProxy === false;
}

function hostOf(address: string): string {
  return new URL(address).hostname.replace(/^\[|\]$/g, '');
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || (isIP(host) === 4 && host.startsWith('127.'));
}

/** A new link each time: the database keeps only its hash, so an old one cannot be told again. */
async function newFirstRunPath(tx: Tx): Promise<string> {
  const token = randomBytes(SECRET_BYTES).toString('base64url');
  await tx.query('update installation set first_run_token_hash = $1', [firstRunHash(token)]);
  return `/first-run/${token}`;
}

/** What the database keeps of a one-time link. */
export function firstRunHash(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

/**
 * The secret that signs tokens and binds forms; all processes on one database share it.
 *
 * @throws Error before `prepareInstallation`
 */
export async function tokenSecret(db: Queryable): Promise<string> {
  const [row] = await db.query<{ secret: string }>('select token_secret as secret from installation');
  if (row === undefined) throw new Error('The database has no installation yet.');
  return row.secret;
}
