import { type DrawingReason, type DrawingRefusalCode, DrawingRefused } from './drawing-refusal.js';

/** Enough to mend a drawing by; a thousand gaps are one mistake. */
const MOST_REASONS = 20;

/** What follows from something worse by itself, and goes with it: mended apart it would only mislead. */
const CONSEQUENCES: { readonly [code in DrawingRefusalCode]?: readonly DrawingRefusalCode[] } = {
  'drawing-two-plates': ['drawing-two-feeds', 'drawing-outside-plate'],
};

/** Gathers what is wrong with a drawing, so that its owner hears of everything at once. */
export class Reasons {
  readonly #found: DrawingReason[] = [];

  add(reason: DrawingReason): void {
    if (this.#found.length < MOST_REASONS) this.#found.push(reason);
  }

  /** Runs a step; what it refuses is kept and the drawing goes on with what is left. */
  gather<T>(step: () => T): T | undefined {
    try {
      return step();
    } catch (error) {
      if (!(error instanceof DrawingRefused)) throw error;
      for (const reason of error.reasons) this.add(reason);
      return undefined;
    }
  }

  /** What to throw, or null when nothing was found. */
  refusal(): DrawingRefused | null {
    const implied = new Set(this.#found.flatMap(({ code }) => CONSEQUENCES[code] ?? []));
    const [first, ...others] = this.#found.filter(({ code }) => !implied.has(code));
    return first ? new DrawingRefused([first, ...others]) : null;
  }

  /** @throws DrawingRefused when anything was found */
  refuseIfAny(): void {
    const refusal = this.refusal();
    if (refusal) throw refusal;
  }
}
