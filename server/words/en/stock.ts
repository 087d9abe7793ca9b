/** Cells of the stock of facing plates and packers. */
export const STOCK_WORDS = {
  kind: { label: 'What' },
  name: { label: 'Name', hint: 'As it is marked' },
  thicknessMm: { label: 'Thickness', unit: 'mm' },
  widthMm: { label: 'Across', unit: 'mm' },
  heightMm: { label: 'Upright', unit: 'mm' },
  material: { label: 'Of' },
  parallelWithinMm: {
    label: 'Parallel within',
    unit: 'mm',
    hint: 'Largest less smallest; empty: not measured',
  },
  place: { label: 'Place on the rack' },
  note: { label: 'Note' },
  state: { label: 'State' },
} as const;

export const STOCK_LABELS: { readonly [field: string]: string } = Object.fromEntries(
  Object.entries(STOCK_WORDS).map(([name, { label }]) => [name, label]),
);

export const STOCK_FORM_ERRORS = {
  name: 'Give the name that it is marked with, in at most 60 characters.',
  choose: 'Choose one.',
  long: 'Say it shorter.',
} as const;
