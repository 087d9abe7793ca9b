import type { FastifyReply, FastifyRequest } from 'fastify';
import { isSameDrawing } from '../../engineering/drawing/difference.js';
import { areaOf } from '../../engineering/geometry/area.js';
import type { Region } from '../../engineering/geometry/point.js';
import { POLYMERS } from '../../engineering/polymers/polymers.js';
import { actorOf } from '../../http/acting.js';
import { accept } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { changeSwatch, plateDifference } from '../../pictures/plate-difference.js';
import { type Bolster, bolsters } from '../../press/store.js';
import { rulesAt } from '../../shop/store.js';
import {
  areaText,
  CUT_CHANGE_WORDS,
  changedCutText,
  depthText,
  differenceLabel,
  FACT_WORDS,
  FINDING_CHANGE_WORDS,
  feedText,
  figureRow,
  holeChangeRow,
  laidText,
  sideText,
} from '../../words/en/comparison.js';
import { momentText } from '../../words/en/times.js';
import type { CheckingHouse, DifferenceAnswer } from '../checking-house.js';
import { plateIdOf } from '../plate-page/send-plate.js';
import { type Revision, revisionsOf } from '../store.js';
import { visiblePlate } from '../visible-plate.js';
import { type Comparison, comparePlate, type SideCompared } from './compare-plate.js';
import type { FactChanged } from './facts-changed.js';
import type { FindingChange, FindingCompared } from './findings-compared.js';
import { compareQuery } from './schemas.js';
import { sidesAsked } from './sides-asked.js';

/** Two revisions, resins or bolsters side by side: what differs in the drawing, in the facts, in the findings. */
export async function showComparison(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
): Promise<FastifyReply> {
  const { database } = house;
  const actor = actorOf(request);
  const plate = accept(await visiblePlate(database, actor, plateIdOf(request)));
  // An empty field of the form is one that was left out; what cannot be read is too.
  const query = compareQuery.safeParse(saidIn(request.query));
  const sides = accept(sidesAsked(plate, query.success ? query.data : {}));
  const [comparison, rules, revisions, known] = await Promise.all([
    comparePlate(house, actor, { plateId: plate.id, ...sides }).then(accept),
    rulesAt(database, house.now()),
    revisionsOf(database, plate.id),
    bolsters(database),
  ]);
  const { from, to } = comparison;
  const [fromText, toText] = [from, to].map((side) => sideWords(side, known)) as [string, string];
  const changed = comparison.findings.filter(({ change }) => change !== 'same');
  return sendSheet(
    request,
    reply,
    house,
    'plates/compare',
    {
      title: `${plate.name}, compared`,
      kicker: `${fromText}; with ${toText.slice(0, 1).toLowerCase()}${toText.slice(1)}`,
      current: 'plates',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: `${plate.name}, compared` },
        { label: 'From', value: `${fromText}: ${from.report.verdict}` },
        { label: 'To', value: `${toText}: ${to.report.verdict}` },
        { label: 'Drawn', value: momentText(house.now(), rules.timeZone) },
        { label: 'Engine and data', value: `${to.report.engineVersion}, data ${to.report.dataVersion}` },
      ],
    },
    {
      plateHref: `/plates/${plate.id}?revision=${to.revision.revision}&polymer=${to.polymer}`,
      plateId: plate.id,
      from: { verdict: from.report.verdict, text: fromText },
      to: { verdict: to.report.verdict, text: toText },
      cells: formCells(comparison, revisions, known),
      drawing: drawingSeen(comparison),
      facts: [...comparison.facts.map(factRow), ...figureRows(comparison.drawing)],
      changed: changed.toSorted((a, b) => ORDER.indexOf(a.change) - ORDER.indexOf(b.change)).map(findingRow),
      same: comparison.findings.filter(({ change }) => change === 'same').map(findingRow),
    },
  );
}

/** Worst first. */
const ORDER: readonly FindingChange[] = [
  'worse',
  'less-margin',
  'new',
  'gone',
  'other',
  'better',
  'more-margin',
  'same',
];

function saidIn(query: unknown): object {
  if (typeof query !== 'object' || query === null) return {};
  return Object.fromEntries(Object.entries(query).filter(([, value]) => value !== ''));
}

function sideWords({ revision, polymer, report }: SideCompared, known: readonly Bolster[]): string {
  const bolster = known.find(({ id }) => id === report.bolster.id);
  return sideText(revision.revision, polymer, bolster?.name ?? 'another bolster');
}

function formCells({ from, to }: Comparison, revisions: readonly Revision[], known: readonly Bolster[]) {
  const of = (which: 'from' | 'to', side: SideCompared) => {
    const cell = (
      field: string,
      label: string,
      options: readonly { value: string; text: string }[],
      picked: string,
    ) => ({
      id: `${which}${field}`,
      name: `${which}${field}`,
      label: `${which === 'from' ? 'From' : 'To'}: ${label}`,
      options: options.map((option) => ({ ...option, selected: option.value === picked })),
    });
    return [
      cell(
        'Revision',
        'revision',
        revisions.map(({ revision }) => ({ value: String(revision), text: String(revision) })),
        String(side.revision.revision),
      ),
      cell(
        'Polymer',
        'resin',
        POLYMERS.map(({ symbol, name }) => ({ value: symbol, text: `${symbol}, ${name}` })),
        side.polymer,
      ),
      cell(
        'BolsterId',
        'bolster',
        known.map(({ id, name, mounted }) => ({ value: id, text: mounted ? `${name}, mounted` : name })),
        side.report.bolster.id,
      ),
    ];
  };
  return { from: of('from', from), to: of('to', to) };
}

/** The picture of the difference with its table, row by row in the order of the picture's numbers. */
function drawingSeen({ drawing, from, to }: Comparison) {
  if (drawing === null || isSameDrawing(drawing.difference)) {
    return { same: drawing !== null, sameFile: from.revision.revision !== to.revision.revision };
  }
  const rows = changeRows(drawing).map((row, index) => ({ number: String(index + 1), ...row }));
  const { alignment, cuts } = drawing.difference;
  const kinds = [...new Set(cuts.map(({ change }) => change))];
  const label = differenceLabel(
    rows.length,
    `revision ${from.revision.revision}`,
    `revision ${to.revision.revision}`,
  );
  return {
    picture: plateDifference({ ...drawing, name: 'difference', label }),
    key: kinds.map((change) => ({ swatch: changeSwatch(change), text: CUT_CHANGE_WORDS[change] })),
    laid: laidText(alignment.by, alignment.turnedDeg),
    rows,
  };
}

function changeRows({ difference }: DifferenceAnswer) {
  const { cuts, outline, water, bolts, dowels, feed } = difference;
  const area = (region: Region, what: string, of: string) =>
    region.length === 0 ? [] : [{ what, of, from: '', to: '', size: areaText(areaOf(region)) }];
  return [
    ...cuts.map((cut) => ({
      what: CUT_CHANGE_WORDS[cut.change],
      of: changedCutText(cut),
      from: depthText(cut.fromMm),
      to: depthText(cut.toMm),
      size: areaText(cut.areaMm2),
    })),
    ...area(outline.added, 'more metal', 'outline'),
    ...area(outline.removed, 'less metal', 'outline'),
    ...area(water.added, 'new bore', 'cooling'),
    ...area(water.removed, 'bore gone', 'cooling'),
    ...bolts.map((hole) => holeChangeRow('screw', hole)),
    ...dowels.map((hole) => holeChangeRow('dowel', hole)),
    ...(feed === null
      ? []
      : [{ what: 'feed changed', of: 'feed', from: feedText(feed.from), to: feedText(feed.to), size: '' }]),
  ];
}

function factRow({ fact, from, to }: FactChanged) {
  const { name, value } = FACT_WORDS[fact] as { name: string; value: (fact: unknown) => string };
  return { fact: name, from: value(from), to: value(to) };
}

function figureRows(drawing: DifferenceAnswer | null) {
  return drawing === null ? [] : drawing.difference.figures.map(figureRow);
}

function findingRow({ change, from, to }: FindingCompared) {
  const side = (finding: FindingCompared['from']) =>
    finding === null
      ? null
      : { verdict: finding.verdict, line: finding.line, margin: finding.marginText ?? '' };
  return {
    name: (to ?? from)?.name ?? '',
    from: side(from),
    to: side(to),
    change: FINDING_CHANGE_WORDS[change],
    strong: change === 'better' || change === 'worse',
  };
}
