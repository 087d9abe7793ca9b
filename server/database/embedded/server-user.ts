import { spawnSync } from 'node:child_process';
import { readFile, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { EmbeddedRefused } from './embedded-refused.js';

/** How PostgreSQL's programs are started, and who must own their files; PostgreSQL itself refuses to run as root. */
export interface ServerUser {
  /** Put before the program. */
  readonly prefix: readonly string[];
  /** Given to `spawn`; undefined keeps the present user. */
  readonly ids: { readonly uid: number; readonly gid: number } | undefined;
}

const ITSELF: ServerUser = { prefix: [], ids: undefined };

/** The number Linux gives to nobody; inside a user namespace of its own it stands for root outside. */
const NOBODY = 65534;

const IN_NAMESPACE: ServerUser = {
  prefix: ['unshare', '--user', `--map-user=${NOBODY}`, `--map-group=${NOBODY}`, '--'],
  ids: undefined,
};

/**
 * Chooses the user for PostgreSQL's programs: the present one unless that is root. Root goes into a user
 * namespace, which needs no account and leaves the files root's own, or else becomes `postgres` or `nobody`; over
 * a cluster that is already somebody's, root becomes them.
 *
 * @param program one of PostgreSQL's programs, tried with `--version`
 * @throws EmbeddedRefused when root has no way to run it as somebody else
 */
export async function chooseServerUser(program: string, clusterFolder: string): Promise<ServerUser> {
  if (process.getuid?.() !== 0) return ITSELF;
  const owner = await ownerOf(clusterFolder);
  if (owner !== undefined && owner.uid !== 0) return { prefix: [], ids: owner };
  if (runs(program, IN_NAMESPACE)) return IN_NAMESPACE;
  for (const ids of await accounts(['postgres', 'nobody'])) {
    const user: ServerUser = { prefix: [], ids };
    if (runs(program, user) && (await canReach(clusterFolder, ids.uid))) return user;
  }
  throw new EmbeddedRefused(
    'PostgreSQL does not run as root. This system allows root no user namespace (unshare --user), and no account ' +
      `postgres or nobody can reach both ${program} and ${dirname(clusterFolder)}. ` +
      'Start the service as an ordinary user, choose another DATA_DIR, or set DATABASE_URL.',
  );
}

async function ownerOf(folder: string): Promise<{ uid: number; gid: number } | undefined> {
  const found = await stat(folder).catch(() => undefined);
  return found && { uid: found.uid, gid: found.gid };
}

function runs(program: string, { prefix, ids }: ServerUser): boolean {
  const [command = program, ...args] = [...prefix, program, '--version'];
  return spawnSync(command, args, { stdio: 'ignore', ...ids }).status === 0;
}

async function accounts(names: readonly string[]): Promise<readonly { uid: number; gid: number }[]> {
  const lines = (await readFile('/etc/passwd', 'utf8').catch(() => '')).split('\n');
  return names.flatMap((name) => {
    const [, , uid, gid] = lines.find((line) => line.startsWith(`${name}:`))?.split(':') ?? [];
    return uid === undefined || gid === undefined ? [] : [{ uid: Number(uid), gid: Number(gid) }];
  });
}

/** Whether every folder above DATA_DIR lets this user through; DATA_DIR and what is in it will be theirs. */
async function canReach(clusterFolder: string, uid: number): Promise<boolean> {
  for (let folder = dirname(dirname(clusterFolder)); ; folder = dirname(folder)) {
    const found = await stat(folder).catch(() => undefined);
    if (found === undefined) return false;
    const passes = found.uid === uid ? (found.mode & 0o100) !== 0 : (found.mode & 0o001) !== 0;
    if (!passes) return false;
    if (folder === dirname(folder)) return true;
  }
}
