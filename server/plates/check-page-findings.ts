import type { Cure, Finding, PlateChange } from '../engineering/finding.js';
import type { BolsterFacts, PlateFacts } from '../engineering/press-facts.js';
import { daylightSection } from '../pictures/daylight-section.js';
import { gauge } from '../pictures/gauge.js';
import type { SafeHtml } from '../pictures/safe-html.js';
import { BASIS_WORDS, DRAWING_WORDS, findingFacts, stackLabel } from '../words/en/check-page.js';
import { CHECK_GROUPS, type CheckGroup } from '../words/en/checks/check-words.js';
import { wordWorking } from '../words/en/working.js';
import { wordFinding } from '../words/index.js';
import { warmingCurve } from './warming-curve.js';

/** A finding as templates/partials/finding.hbs takes it, with its group and what it stands for. */
export interface FindingView {
  readonly finding: Finding;
  readonly group: CheckGroup;
  readonly verdict: Finding['verdict'];
  readonly name: string;
  readonly balloon: string | null;
  readonly small: string;
  readonly margin: string | null;
  readonly gauge: SafeHtml | null;
  /** Not clear: framed; a stop and what has a cure are open. */
  readonly framed: boolean;
  readonly open: boolean;
  readonly sentence: string;
  readonly facts: ReturnType<typeof findingFacts>;
  readonly section: SafeHtml | null;
  /** What runs over time, drawn as wide as the finding. */
  readonly curve: SafeHtml | null;
  /** How the figure comes about, line by line. */
  readonly working: readonly { readonly text: string; readonly from: string }[];
  readonly cures: readonly {
    readonly amount: string;
    readonly what: string;
    readonly also: string | null;
    readonly tryWith: string | null;
  }[];
}

const GAUGE_WIDTH = { framed: 200, clear: 150 };

/** Findings in their fixed order; those that are not clear and have a place get a number. */
export function findingViews(
  findings: readonly Finding[],
  facts: PlateFacts,
  bolster: BolsterFacts,
): readonly FindingView[] {
  let numbered = 0;
  return findings.map((finding) => {
    const hasPlace =
      finding.verdict !== 'clear' && (finding.places.length > 0 || finding.check === 'daylight');
    if (hasPlace) numbered += 1;
    return findingView(finding, hasPlace ? String(numbered) : null, facts, bolster);
  });
}

function findingView(
  finding: Finding,
  balloon: string | null,
  facts: PlateFacts,
  bolster: BolsterFacts,
): FindingView {
  const words = wordFinding(finding);
  const framed = finding.verdict !== 'clear';
  return {
    finding,
    group: words.group,
    verdict: finding.verdict,
    name: words.name,
    balloon,
    small: words.line,
    margin: words.marginText,
    gauge: gauge(finding, framed ? GAUGE_WIDTH.framed : GAUGE_WIDTH.clear),
    framed,
    open: finding.verdict === 'stop' || finding.verdict === 'caution',
    sentence: words.summary,
    facts: findingFacts(finding, words.marginText, words.note),
    section: finding.check === 'daylight' && framed ? daylightPicture(facts, bolster) : null,
    curve: warmingCurve(finding),
    working: wordWorking(finding).map(({ text, source, basis }) => ({
      text,
      from: source.includes(BASIS_WORDS[basis]) ? source : `${source}; ${BASIS_WORDS[basis]}`,
    })),
    cures: words.cures.map(({ amountText, what, also, change }) => ({
      amount: amountText,
      what,
      also,
      tryWith: changeAsForm(change),
    })),
  };
}

function daylightPicture(facts: PlateFacts, bolster: BolsterFacts): SafeHtml {
  return daylightSection({
    packerThicknessMm: facts.packerThicknessMm,
    plateThicknessMm: facts.thicknessMm,
    facingThicknessMm: facts.facingThicknessMm,
    minimumDaylightMm: bolster.minimumDaylightMm,
    label: stackLabel(facts, bolster),
    words: { ...DRAWING_WORDS, least: DRAWING_WORDS.least(bolster.minimumDaylightMm) },
  });
}

/** A change as the value of a "Check with it" button: `packerThicknessMm=2&screwLengthMm=16`. Null for none. */
export function changeAsForm(change: Cure['change'] | null): string | null {
  const fields = Object.entries(change ?? {}).map(([field, value]): [string, string] => [
    field,
    String(value),
  ]);
  return fields.length === 0 ? null : new URLSearchParams(fields).toString();
}

/** The fields a "Check with it" button sets, as text; a stranger's other fields are left out. */
export function changeFromForm(value: string): { readonly [field in keyof PlateChange]?: string } {
  const known = new Set<string>(CHANGE_FIELDS);
  return Object.fromEntries([...new URLSearchParams(value)].filter(([field]) => known.has(field)));
}

const CHANGE_FIELDS = [
  'thicknessMm',
  'facingThicknessMm',
  'packerThicknessMm',
  'alloy',
  'screwLengthMm',
  'headSinkDepthMm',
  'headSinkDiameterMm',
] as const satisfies readonly (keyof PlateChange)[];

interface FindingGroup {
  readonly group: CheckGroup;
  readonly findings: readonly FindingView[];
}

/** What is clear by group, the groups in two columns as even as their order allows. */
export function clearColumns(findings: readonly FindingView[]): readonly (readonly FindingGroup[])[] {
  const groups = CHECK_GROUPS.map((group) => ({
    group,
    findings: findings.filter((finding) => finding.group === group),
  })).filter((group) => group.findings.length > 0);
  const lengthOf = (some: readonly FindingGroup[]) =>
    some.reduce((sum, { findings }) => sum + findings.length + 1, 0);
  let best = groups.length;
  for (let split = 1; split < groups.length; split += 1) {
    const uneven = (at: number) => Math.abs(lengthOf(groups.slice(0, at)) - lengthOf(groups.slice(at)));
    if (uneven(split) < uneven(best)) best = split;
  }
  return [groups.slice(0, best), groups.slice(best)];
}
