import type { InductionContents } from './contents.js';
import { readContents } from './read-contents.js';
import type { InductionVersion } from './store.js';

/** What was read already: contents are looked at far more often than written, and a version never changes. */
const read = new Map<string, InductionContents>();
const READ_KEPT_MAX = 60;

/**
 * The contents of a stored version.
 *
 * @throws Error when the text is not an induction; none is stored that is not
 */
export function contentsOf({ competence, version, contents }: InductionVersion): InductionContents {
  const known = read.get(contents);
  if (known !== undefined) return known;
  const outcome = readContents(contents);
  if (!('parts' in outcome)) throw new Error(`Version ${version} of ${competence} cannot be read.`);
  if (read.size >= READ_KEPT_MAX) read.clear();
  read.set(contents, outcome);
  return outcome;
}
