import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Queryable } from '../database/queryable.js';
import { PROJECT_FOLDER } from '../project-folder.js';
import { inductions, insertCompetence } from './store.js';

const FOLDER = join(PROJECT_FOLDER, 'server', 'inductions', 'first-contents');

/** Common practice, no source: no law sets a period for these machines, and most people here use them now and then. */
const REFRESH_MONTHS = 12;

/** What every house begins with; an admin adds to it and writes it anew. */
export const FIRST_COMPETENCES = [
  { name: 'press-operation', title: 'Press operation' },
  { name: 'plate-change', title: 'Plate change' },
  { name: 'drying-oven', title: 'Drying oven' },
  { name: 'granulator', title: 'Granulator' },
  { name: 'stewarding', title: 'Stewarding' },
] as const;

/** Lays the first contents of every competence that the house does not have yet; several may do so at once. */
export async function layFirstContents(db: Queryable, at: Date): Promise<void> {
  const known = new Set((await inductions(db)).map(({ competence }) => competence));
  for (const { name, title } of FIRST_COMPETENCES) {
    if (known.has(name)) continue;
    const contents = await readFile(join(FOLDER, `${name}.md`), 'utf8');
    await insertCompetence(db, {
      competence: name,
      title,
      refreshMonths: REFRESH_MONTHS,
      contents: contents.replaceAll('\r\n', '\n'),
      writtenBy: null,
      at,
    });
  }
}
