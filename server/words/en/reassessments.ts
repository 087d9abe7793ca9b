import { CHECKS, type Verdict } from '../../engineering/finding.js';
import type { GroundPart, Reassessment } from '../../plates/reassessments/store.js';
import type { CheckWorse } from '../../shop/foreseen.js';
import { nameOfCheck } from './findings.js';

/** "Daylight: caution, before clear." for each check that got worse, from JSON as a notice keeps it. */
export function worseText(json: string): string {
  return json === '' ? '' : worseLines(JSON.parse(json) as readonly CheckWorse[]).join(' ');
}

/** One sentence for each check that got worse. */
export function worseLines(worse: readonly CheckWorse[]): readonly string[] {
  return worse.map(({ check, before, after }) => `${checkName(check)}: ${after}, before ${before}.`);
}

function checkName(check: string): string {
  const known = CHECKS.find((one) => one === check);
  return known === undefined ? check : nameOfCheck(known);
}

const CHANGED: { readonly [part in GroundPart]: string } = {
  mounted: 'another bolster is in the press',
  bolster: 'the bolster has a new version',
  press: 'the press has a new version',
  rules: 'the shop rules are others',
  data: 'resin and material data are newer',
  engine: 'the check itself is newer',
};

/** "Since the bolster has a new version": what a plate's report says more because of. */
export function changedText(changed: readonly GroundPart[]): string {
  return changed.map((part) => CHANGED[part]).join('; ');
}

/** A plate that got worse, as a line of the desk. */
export function reassessedLine({ plateName, ownerName, revision, polymer, worse }: Reassessment) {
  return {
    name: `Says more than before: ${plateName}, in ${polymer}`,
    more: `${ownerName}’s, revision ${revision}. ${worseLines(worse).join(' ')}`,
    button: 'See the plate',
  };
}

/** The worst that any of the checks says now. */
export function worstOf(worse: readonly CheckWorse[]): Verdict {
  const said = new Set(worse.map(({ after }) => after));
  return (['stop', 'unknown', 'caution'] as const).find((verdict) => said.has(verdict)) ?? 'clear';
}
