import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** The folder that holds package.json: the same whether this runs from `server/` or, compiled, from `dist/`. */
export const PROJECT_FOLDER = folderHolding('package.json', import.meta.dirname);

function folderHolding(name: string, start: string): string {
  for (let folder = start; ; folder = dirname(folder)) {
    if (existsSync(join(folder, name))) return folder;
    if (folder === dirname(folder)) throw new Error(`No folder above ${start} holds ${name}.`);
  }
}
