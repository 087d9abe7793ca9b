import { type DrawingReason, DrawingRefused } from './drawing-refusal.js';
import { type DxfEntity, textOf } from './dxf-document.js';

/** Everything a refusal says about an entity; `layer` is the one that counts, which a block may have handed down. */
export interface EntityName {
  readonly entity: string;
  readonly layer: string;
}

/** What one entity says, asked for by group code. */
export class EntityFields {
  readonly name: EntityName;
  readonly #entity: DxfEntity;

  constructor(entity: DxfEntity, layer: string) {
    this.#entity = entity;
    this.name = { entity: entity.type, layer };
  }

  get vertices(): readonly EntityFields[] {
    return this.#entity.vertices.map((vertex) => new EntityFields(vertex, this.name.layer));
  }

  /**
   * The first number with a code.
   * @throws DrawingRefused `drawing-coordinate-not-finite`, and `drawing-entity-damaged` where it is missing and
   * nothing is usual
   */
  number(code: number, usual?: number): number {
    const text = textOf(this.#entity, code);
    if (text !== undefined) return this.#numberIn(text);
    if (usual === undefined) this.refuse({ code: 'drawing-entity-damaged', value: code });
    return usual;
  }

  /** All numbers with a code, in order. */
  numbers(code: number): number[] {
    const { groups, from, to } = this.#entity;
    const found: number[] = [];
    for (let i = from; i < to; i++) {
      if (groups.codes[i] === code) found.push(this.#numberIn(groups.values[i] as string));
    }
    return found;
  }

  /** Calls back with every group of the entity that is a number of the given codes, in order. */
  each(codes: ReadonlySet<number>, take: (code: number, value: number) => void): void {
    const { groups, from, to } = this.#entity;
    for (let i = from; i < to; i++) {
      const code = groups.codes[i] as number;
      if (codes.has(code)) take(code, this.#numberIn(groups.values[i] as string));
    }
  }

  text(code: number): string {
    return textOf(this.#entity, code) ?? '';
  }

  /** 1 or -1 as the entity is drawn facing us or from behind; anything else is tilted out of the drawing plane. */
  facing(): 1 | -1 {
    const x = this.number(210, 0);
    const y = this.number(220, 0);
    const z = this.number(230, 1);
    if (z === 0 || Math.hypot(x, y) > 1e-6 * Math.abs(z)) this.refuse({ code: 'drawing-entity-not-flat' });
    return z > 0 ? 1 : -1;
  }

  refuse(reason: Omit<DrawingReason, 'entity' | 'layer'>): never {
    throw new DrawingRefused([{ ...this.name, ...reason }]);
  }

  #numberIn(text: string): number {
    const value = text === '' ? Number.NaN : Number(text);
    if (!Number.isFinite(value))
      this.refuse({ code: 'drawing-coordinate-not-finite', value: text.slice(0, 40) });
    return value;
  }
}
