import type { DrawingDifference } from '../engineering/drawing/difference.js';
import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import type { BolsterDrawing } from '../engineering/drawing/read-bolster-drawing.js';
import type { Verdict } from '../engineering/finding.js';
import type { RunFacts } from '../engineering/heat/check-plate-warming.js';
import type { CuttingList } from '../engineering/machining/cutting-list.js';
import type { PlateCheck } from '../engineering/plate-check.js';
import type { Grade } from '../engineering/polymers/grade.js';
import type { BolsterFacts, CheckRules, PlateFacts, PressFacts } from '../engineering/press-facts.js';
import type { Asker } from '../http/asker.js';
import type { House } from '../http/house.js';
import type { PlateSketch } from '../pictures/plate-sketch.js';
import type { Refusal } from '../reasons.js';

/** Everything a check is computed from, as plain data that can be sent to a worker. */
export interface CheckQuestion {
  readonly dxf: Uint8Array | string;
  readonly facts: PlateFacts;
  readonly bolster: BolsterFacts;
  readonly press: PressFacts;
  readonly rules: CheckRules;
  readonly polymer: string;
  /** A grade of that polymer; left out where the family's own figures hold. */
  readonly grade?: Grade | undefined;
  /** Left out: nothing is known of a run. */
  readonly run?: RunFacts | undefined;
}

/** Findings and drawing, for who draws them. */
export interface CheckAnswer {
  readonly drawing: MeasuredDrawing;
  readonly check: PlateCheck;
  readonly cutting: CuttingList;
}

/** Two drawings of a plate laid on each other, for who draws them; all in the coordinates of the later one. */
export interface DifferenceAnswer {
  readonly after: MeasuredDrawing;
  readonly difference: DrawingDifference;
}

/** What is read off a drawing for lists: sizes in mm, of each part the longer side, and the plate drawn small. */
export interface DrawingSketched {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly partMm: readonly number[];
  readonly sketch: PlateSketch;
}

/** A check in words, as it is answered and stored. */
export interface ReportMade {
  readonly verdict: Verdict;
  /** A `CheckReport` as JSON, in UTF-8. */
  readonly json: Uint8Array;
}

/** What a report says it is about, beside what it is computed from. */
export interface BolsterNamed {
  readonly id: string;
  readonly version: number;
}

/** Reads and checks drawings off the request thread, within time and memory, in turns. */
export interface Checks {
  /**
   * @param sprueDiameterMm what a feed drawn as a point is taken for
   * @returns a `DrawingReport` as JSON, in UTF-8
   */
  readonly measure: (
    dxf: Uint8Array | string,
    sprueDiameterMm: number,
    asker: Asker,
  ) => Promise<Uint8Array | Refusal>;
  /** @param sprueDiameterMm what a feed drawn as a point is taken for */
  readonly sketch: (
    dxf: Uint8Array | string,
    sprueDiameterMm: number,
    asker: Asker,
  ) => Promise<DrawingSketched | Refusal>;
  /** The face of a bolster, in millimetres from its sprue axis. */
  readonly bolster: (dxf: Uint8Array | string, asker: Asker) => Promise<BolsterDrawing | Refusal>;
  readonly check: (question: CheckQuestion, asker: Asker) => Promise<CheckAnswer | Refusal>;
  /** @param sprueDiameterMm what a feed drawn as a point is taken for */
  readonly difference: (
    before: Uint8Array,
    after: Uint8Array,
    sprueDiameterMm: number,
    asker: Asker,
  ) => Promise<DifferenceAnswer | Refusal>;
  readonly report: (
    question: CheckQuestion,
    bolster: BolsterNamed,
    asker: Asker,
  ) => Promise<ReportMade | Refusal>;
}

/** What a room is given that has plates checked. */
export interface CheckingHouse extends House {
  readonly checks: Checks;
}
