/** Thrown when shapes would take more comparisons than any drawing of a real part needs. */
export class TooIntricate extends Error {
  override readonly name = 'TooIntricate';
  readonly limit: number;

  constructor(limit: number) {
    super(`more than ${limit} comparisons`);
    this.limit = limit;
  }
}
