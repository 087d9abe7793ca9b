import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { afterwards } from './afterwards.js';

/** A service in a process of its own, as `npm start` runs it. */
export interface RunningService {
  /** Where it listens. */
  readonly url: string;
  readonly pid: number;
  /** All it wrote so far, to both streams. */
  readonly output: () => string;
  /** Sends a signal and waits for the end; gives the exit code, or null when the signal itself ended it. */
  readonly end: (signal: NodeJS.Signals) => Promise<number | null>;
  /** Settles with the exit code when it ends, however that comes. */
  readonly ended: Promise<number | null>;
}

export interface EndedService {
  readonly exitCode: number | null;
  readonly output: string;
}

/** What is put before `node`, for instance to become another user. */
interface Launch {
  readonly prefix?: readonly string[];
  readonly onSpawn?: (child: ChildProcess) => void;
  /** The command itself, when it is not to be the compiled service. */
  readonly command?: readonly string[];
}

const MAIN = join(PROJECT_FOLDER, 'dist', 'server', 'main.js');
const OPEN = /is open at (\S+)/;

/**
 * Starts the compiled service with these settings on a free port and waits until it is open. What the calling test
 * file leaves running is told to stop at its end.
 *
 * @throws Error with what it wrote, when it ends instead
 */
export async function startService(
  settings: Readonly<Record<string, string>>,
  launch: Launch = {},
): Promise<RunningService> {
  const { child, output } = launched(settings, launch);
  const url = await new Promise<string>((open, failed) => {
    child.stdout?.on('data', () => {
      const found = OPEN.exec(output())?.[1];
      if (found !== undefined) open(found);
    });
    child.once('exit', (code) => failed(new Error(`The service ended with ${code}:\n${output()}`)));
  });
  const ended = once(child, 'exit').then(([code]) => code as number | null);
  const end = (signal: NodeJS.Signals) => {
    child.kill(signal);
    return ended;
  };
  return { url, pid: child.pid as number, output, end, ended };
}

/** Starts a service that is expected to end by itself. */
export async function runToItsEnd(
  settings: Readonly<Record<string, string>>,
  launch: Launch = {},
): Promise<EndedService> {
  const { child, output } = launched(settings, launch);
  const [exitCode] = await once(child, 'close');
  return { exitCode, output: output() };
}

function launched(
  settings: Readonly<Record<string, string>>,
  { prefix = [], onSpawn, command = [process.execPath, MAIN] }: Launch,
) {
  const [program = '', ...args] = [...prefix, ...command];
  const { DATABASE_URL: _theRunsOwn, ...environment } = process.env;
  const child = spawn(program, args, {
    cwd: PROJECT_FOLDER,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...environment, NODE_ENV: 'development', PORT: '0', LOG_LEVEL: 'warn', ...settings },
  });
  onSpawn?.(child);
  afterwards(() => stopped(child));
  let text = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8').on('data', (part: string) => {
      text += part;
    });
  }
  return { child, output: () => text };
}

async function stopped(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = once(child, 'exit');
  child.kill('SIGTERM');
  await ended;
}
