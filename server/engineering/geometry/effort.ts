import { TooIntricate } from './too-intricate.js';

/** Counts the steps of a search that is short for any real drawing and endless for a made-up one. */
export class Effort {
  readonly #limit: number;
  #spent = 0;

  constructor(limit: number) {
    this.#limit = limit;
  }

  /** @throws TooIntricate once more than the limit has been spent */
  spend(steps: number): void {
    this.#spent += steps;
    if (this.#spent > this.#limit) throw new TooIntricate(this.#limit);
  }
}
