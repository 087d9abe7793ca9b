import type { FieldErrors } from '../../http/form.js';
import { plainNumber, STACK_PART_WORDS } from '../../words/en/press.js';
import { STOCK_WORDS } from '../../words/en/stock.js';
import { choiceCell, type FormShown, figureCell, METAL_OPTIONS } from '../form-cell.js';
import type { StackPart } from './store.js';

/** The stock as tables: what is in service, and what is retired. */
export function stockLines(parts: readonly StackPart[]) {
  const lines = parts.map((part) => ({
    href: `/stock/${part.id}`,
    what: STACK_PART_WORDS[part.kind],
    name: part.name,
    thickness: plainNumber(part.thicknessMm),
    size: `${plainNumber(part.widthMm)} × ${plainNumber(part.heightMm)}`,
    material: part.material,
    parallel:
      part.parallelWithinMm === null ? STACK_PART_WORDS.notMeasured : plainNumber(part.parallelWithinMm),
    place: part.place,
    note: part.note,
    state: part.state,
  }));
  return {
    inService: lines.filter(({ state }) => state === 'in-service'),
    retired: lines.filter(({ state }) => state === 'retired'),
  };
}

/** Cells for the metal, which never changes. */
export function metalCells(shown: FormShown) {
  const kinds = [
    ['packer', 'Packer'],
    ['facing', 'Facing plate'],
  ] as const;
  return [
    choiceCell('kind', STOCK_WORDS.kind, kinds, shown),
    figureCell('thicknessMm', STOCK_WORDS.thicknessMm, shown),
    figureCell('widthMm', STOCK_WORDS.widthMm, shown),
    figureCell('heightMm', STOCK_WORDS.heightMm, shown),
    choiceCell('material', STOCK_WORDS.material, METAL_OPTIONS, shown),
  ];
}

/** Cells for what is written about it; its state only where it has one already. */
export function labelCells(shown: FormShown, withState = false) {
  const words = (name: 'name' | 'place' | 'note', maxLength: number) => ({
    ...figureCell(name, STOCK_WORDS[name], shown),
    inputMode: 'text',
    size: 'wide',
    maxLength,
  });
  const states = [
    ['in-service', 'In service'],
    ['retired', 'Retired'],
  ] as const;
  return [
    words('name', 60),
    figureCell('parallelWithinMm', STOCK_WORDS.parallelWithinMm, shown),
    words('place', 60),
    words('note', 200),
    ...(withState ? [choiceCell('state', STOCK_WORDS.state, states, shown)] : []),
  ];
}

/** A part as the fields of its form. */
export function fieldsOfPart({
  name,
  parallelWithinMm,
  place,
  note,
  state,
  edition,
}: StackPart): FieldErrors {
  return {
    name,
    parallelWithinMm: String(parallelWithinMm ?? ''),
    place,
    note,
    state,
    basedOn: String(edition),
  };
}
