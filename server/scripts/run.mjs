import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The project's folder, with the separator at its end. */
export const PROJECT = fileURLToPath(new URL('../..', import.meta.url));

/** Runs a program of this Node in the project's folder, its words going to the terminal; gives its exit code. */
export function runNode(args, environment = {}) {
  return new Promise((ended, failed) => {
    const child = spawn(process.execPath, args, {
      cwd: PROJECT,
      stdio: 'inherit',
      env: { ...process.env, ...environment },
    });
    child.once('error', failed);
    child.once('exit', (code) => ended(code ?? 1));
  });
}

/** The JavaScript behind an installed command, so that no shell and no link is needed to run it. */
export function installed(path) {
  return fileURLToPath(new URL(`../../node_modules/${path}`, import.meta.url));
}
