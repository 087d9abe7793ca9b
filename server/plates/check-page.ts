import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import { CHECKS } from '../engineering/finding.js';
import type { PlateCheck } from '../engineering/plate-check.js';
import type { PlateFacts } from '../engineering/press-facts.js';
import type { Bolster } from '../press/store.js';
import type { TitleBlockEntry } from '../views.js';
import {
  drawingFound,
  featureNames,
  holeRow,
  placedNote,
  shareOfFindings,
  verdictCount,
} from '../words/en/check-page.js';
import { notJudgedBy, notJudgedText } from '../words/en/not-judged.js';
import { wordNotice } from '../words/index.js';
import { clearColumns, type FindingView, findingViews } from './check-page-findings.js';
import { type CheckFormView, type FileRead, fileRead } from './check-page-form.js';
import { drawPlate } from './check-page-pictures.js';

/** Id of the form on the page: cures and "keep it" are buttons of the same form, wherever they stand. */
const CHECK_FORM_ID = 'check-form';

/**
 * Data of `templates/check/check.hbs` besides the sheet's own. The page is a handler's from four things:
 * the form as it stands (`checkForm`), the file it read (`fileRead`), what the check said (`checkResult`), and how
 * the plate may be kept (`keep`). The sheet gets: title, the plate's name or "Before cutting metal"; kicker "Before
 * cutting metal" once a drawing is read; current `check`; firstAngle true with a result; titleBlock from
 * `checkTitleBlock`; errorSummary with fields named as the cells' ids, which are the fields' names.
 */
export interface CheckPage {
  readonly form: CheckFormView;
  /** Null before a drawing is read or while it is refused. */
  readonly result: CheckResult | null;
  readonly keep: KeepView;
  /** Drawings to try, while none is read. */
  readonly samples: readonly { readonly href: string; readonly text: string }[];
}

/**
 * The same form, sent to `action` with the plate's name; signed out, the next sheet asks to sign in and carries
 * everything along.
 */
export interface KeepView {
  readonly action: string;
  readonly name: string;
  readonly nameError?: string;
  readonly note: string;
  readonly noteError?: string;
  readonly signedIn: boolean;
}

/** What a check has to show. */
export interface CheckResult {
  readonly formId: string;
  readonly stamp: { readonly verdict: PlateCheck['verdict']; readonly count: string };
  readonly bolsterName: string;
  readonly placed: string;
  readonly pictures: ReturnType<typeof drawPlate>;
  /** How each bolt hole meets the bolster: the picture's facts in a table. */
  readonly holes: readonly ReturnType<typeof holeRow>[];
  readonly depths: readonly { readonly depth: string; readonly features: string }[];
  readonly notClear: readonly FindingView[];
  readonly notClearShare: string;
  /** Two columns of groups. */
  readonly clear: ReturnType<typeof clearColumns>;
  readonly clearShare: string;
  /** What no check looks at yet. */
  readonly notJudged: string | null;
}

export interface CheckedPlate {
  readonly drawing: MeasuredDrawing;
  readonly facts: PlateFacts;
  readonly bolster: Bolster;
  readonly check: PlateCheck;
}

/** The result of a check as the page shows it: pictures, what is not clear, what is. Pure. */
export function checkResult({ drawing, facts, bolster, check }: CheckedPlate): CheckResult {
  const findings = findingViews(check.findings, facts, bolster.facts);
  const notClear = findings.filter((finding) => finding.framed);
  const clear = findings.filter((finding) => !finding.framed);
  const pictures = drawPlate({ drawing, facts, bolster, check, findings });
  return {
    formId: CHECK_FORM_ID,
    stamp: { verdict: check.verdict, count: verdictCount(check.findings) },
    bolsterName: bolster.name,
    placed: placedNote(check.registration),
    pictures,
    holes: check.registration.matches.map((match) => holeRow(match, drawing)),
    depths: pictures.depthRows.map(({ value, features }) => ({
      depth: value,
      features: featureNames(features),
    })),
    notClear,
    notClearShare: shareOfFindings(notClear.length, findings.length),
    clear: clearColumns(clear),
    clearShare: shareOfFindings(clear.length, findings.length),
    notJudged: notJudgedText(notJudgedBy(CHECKS)),
  };
}

/** The drop zone's words once a drawing is read. `how` says what it was read in: "read in 0.2 s, in mm". */
export function drawingRead(fileName: string, how: string, drawing: MeasuredDrawing): FileRead {
  return fileRead(fileName, how, drawingFound(drawing), drawing.notices.map(wordNotice));
}

/** The page's title block. `sheet` says whether it is kept and `checkedAt` when it was checked, in words. */
export function checkTitleBlock(
  { facts, bolster, check }: Omit<CheckedPlate, 'drawing'>,
  about: { readonly sheet: TitleBlockEntry; readonly checkedAt: string },
): readonly TitleBlockEntry[] {
  const mounted = bolster.mounted ? 'mounted' : 'not mounted';
  return [
    about.sheet,
    { label: 'Drawn on', value: `${bolster.name}, version ${bolster.version}, ${mounted}` },
    { label: 'Checked', value: about.checkedAt },
    { label: 'Engine and data', value: `${check.engineVersion}, data ${check.dataVersion}` },
    { label: 'Plate', value: `${facts.alloy}, ${facts.thicknessMm.toFixed(1)} mm` },
  ];
}
