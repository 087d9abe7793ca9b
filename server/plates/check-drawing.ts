import { differenceOfDrawings } from '../engineering/drawing/difference.js';
import { DrawingRefused } from '../engineering/drawing/drawing-refusal.js';
import { measureDxf } from '../engineering/drawing/measure-drawing.js';
import { type BolsterDrawing, readBolsterDrawing } from '../engineering/drawing/read-bolster-drawing.js';
import { TooIntricate } from '../engineering/geometry/too-intricate.js';
import { cuttingList } from '../engineering/machining/cutting-list.js';
import { checkPlate } from '../engineering/plate-check.js';
import { polymerOfGrade } from '../engineering/polymers/grade.js';
import { findPolymer } from '../engineering/polymers/polymers.js';
import { accept, Refused } from '../http/refused.js';
import type { Reason } from '../reasons.js';
import { wordDrawing, wordReport } from '../words/index.js';
import type { CheckReport, DrawingReport } from './check-report-schema.js';
import type {
  BolsterNamed,
  CheckAnswer,
  CheckQuestion,
  DifferenceAnswer,
  ReportMade,
} from './checking-house.js';
import { refusalOfDrawing } from './refusal-of-drawing.js';
import { refusalOfHoles } from './refusal-of-holes.js';

/** What came of it, as plain data: classes do not survive the way from a worker to the service. */
export type Outcome<Value> = { readonly value: Value } | { readonly refused: readonly [Reason, ...Reason[]] };

/** Reads and measures a drawing, in this process and for as long as it takes; gives its report as JSON. */
export function measureDrawing(dxf: Uint8Array | string, sprueDiameterMm: number): Outcome<Uint8Array> {
  return outcomeOf(() => {
    const report: DrawingReport = wordDrawing(measureDxf(dxf, { sprueDiameterMm }));
    return jsonOf(report);
  });
}

/** Reads, measures and checks a drawing, in this process and for as long as it takes. */
export function checkDrawing({
  dxf,
  facts,
  bolster,
  press,
  rules,
  ...asked
}: CheckQuestion): Outcome<CheckAnswer> {
  const family = findPolymer(asked.polymer);
  if (family === null) {
    return { refused: [{ code: 'polymer-unknown', figures: { polymer: asked.polymer } }] };
  }
  return outcomeOf(() => {
    const drawing = measureDxf(dxf, { sprueDiameterMm: bolster.sprue.partingFaceDiameterMm });
    accept(refusalOfHoles(facts, drawing.bolts.length));
    const polymer = asked.grade === undefined ? family : polymerOfGrade(family, asked.grade);
    const { run } = asked;
    const check = checkPlate({ drawing, plate: facts, polymer, bolster, press, rules, ...(run && { run }) });
    return { drawing, check, cutting: cuttingList(drawing, facts) };
  });
}

/** Reads and measures two drawings of a plate and lays them on each other. */
export function compareDrawings(
  before: Uint8Array,
  after: Uint8Array,
  sprueDiameterMm: number,
): Outcome<DifferenceAnswer> {
  return outcomeOf(() => {
    const [was, is] = [measureDxf(before, { sprueDiameterMm }), measureDxf(after, { sprueDiameterMm })];
    return { after: is, difference: differenceOfDrawings(was, is) };
  });
}

/** As `checkDrawing`, put into words here: JSON is a tenth of what drawing and findings weigh. */
export function reportDrawing(question: CheckQuestion, bolster: BolsterNamed): Outcome<ReportMade> {
  const outcome = checkDrawing(question);
  if ('refused' in outcome) return outcome;
  const { check, drawing } = outcome.value;
  const report: CheckReport = wordReport(check, { drawing, polymer: question.polymer, bolster });
  return { value: { verdict: report.verdict, json: jsonOf(report) } };
}

/** Reads the face of a bolster, in this process and for as long as it takes. */
export function bolsterDrawing(dxf: Uint8Array | string): Outcome<BolsterDrawing> {
  return outcomeOf(() => readBolsterDrawing(dxf));
}

function jsonOf(value: object): Uint8Array {
  return Buffer.from(JSON.stringify(value));
}

/** Does it, and turns what the reader of drawings throws into a refusal. */
export function outcomeOf<Value>(work: () => Value): Outcome<Value> {
  try {
    return { value: work() };
  } catch (error) {
    if (error instanceof Refused) return { refused: error.refusal.reasons };
    if (error instanceof DrawingRefused) return { refused: refusalOfDrawing(error).reasons };
    if (error instanceof TooIntricate) return { refused: [{ code: 'drawing-too-intricate' }] };
    throw error;
  }
}
