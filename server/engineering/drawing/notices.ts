import type { DrawingNotice } from './measured-drawing.js';

/** Counts what is left out, one notice for each kind, layer and entity. */
export class Notices {
  readonly #counted = new Map<string, DrawingNotice & { count: number }>();

  add(notice: Omit<DrawingNotice, 'count'>, count = 1): void {
    const key = `${notice.code}/${notice.layer ?? ''}/${notice.entity ?? ''}`;
    const known = this.#counted.get(key);
    if (known) known.count += count;
    else this.#counted.set(key, { ...notice, count });
  }

  list(): DrawingNotice[] {
    return [...this.#counted.values()];
  }
}
