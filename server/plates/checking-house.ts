import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import type { PlateCheck } from '../engineering/plate-check.js';
import type { BolsterFacts, CheckRules, PlateFacts, PressFacts } from '../engineering/press-facts.js';
import type { House } from '../http/house.js';
import type { Refusal } from '../reasons.js';

/** Everything a check is computed from, as plain data that can be sent to a worker. */
export interface CheckQuestion {
  readonly dxf: Uint8Array | string;
  readonly facts: PlateFacts;
  readonly bolster: BolsterFacts;
  readonly press: PressFacts;
  readonly rules: CheckRules;
  readonly polymer: string;
}

export interface CheckAnswer {
  readonly drawing: MeasuredDrawing;
  readonly check: PlateCheck;
}

/** Reads and checks drawings off the request thread, within time and memory. */
export interface Checks {
  readonly measure: (dxf: Uint8Array | string) => Promise<MeasuredDrawing | Refusal>;
  readonly check: (question: CheckQuestion) => Promise<CheckAnswer | Refusal>;
}

/** What a room is given that has plates checked. */
export interface CheckingHouse extends House {
  readonly checks: Checks;
}
