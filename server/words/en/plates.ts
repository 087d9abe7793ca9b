/** What an owner lets others do with a plate, as a choice. */
export const SHARING_WORDS = {
  nobody: { text: 'Nobody else', more: 'Only you, and stewards, who see every plate.' },
  see: {
    text: 'Everybody may see it',
    more: 'Its drawing, reports and photographs. Nobody else books with it.',
  },
  run: {
    text: 'Everybody may see and run it',
    more: 'Members with the sign-offs book the press with it, as it is cleared.',
  },
} as const;

/** "with nobody", "to be seen", "to be seen and run". */
export function sharingName(sharing: string): string {
  if (sharing === 'see') return 'to be seen';
  return sharing === 'run' ? 'to be seen and run' : 'with nobody';
}

/** How the metal is. */
export const CONDITION_WORDS = {
  'not-cut': 'not cut yet',
  good: 'good',
  worn: 'worn',
  damaged: 'damaged',
} as const;

export type Condition = keyof typeof CONDITION_WORDS;

/** "worn: gate 2 has a burr". */
export function conditionText(condition: Condition, note: string | null): string {
  return note === null ? CONDITION_WORDS[condition] : `${CONDITION_WORDS[condition]}: ${note}`;
}

export function ownerText(ownerName: string, ownerLeft: boolean): string {
  return ownerLeft
    ? `${ownerName}: nobody revises or shares it until a steward hands it to somebody`
    : ownerName;
}

export function conditionName(condition: string): string {
  return Object.hasOwn(CONDITION_WORDS, condition) ? CONDITION_WORDS[condition as Condition] : condition;
}

/** What is said of each drawing of several. */
export const SEVERAL_WORDS = {
  tooLarge: 'The file is too large: at most 8 MiB are read.',
  tooMany: (most: number) => `Only ${most} drawings are read at once: choose the rest once these are kept.`,
  none: 'Choose the drawings of the plates, DXF files.',
  lost: 'It did not come along with the form: choose it again.',
  name: 'Give it a name of at most 80 characters.',
  twice: (fileName: string) => `This is the very file ${fileName} above.`,
  keptAlready: (name: string, revision: number) =>
    `This very file is kept already: ${name}, revision ${revision}.`,
} as const;

/** What was just done, told once above the list of plates. */
export const PLATES_DONE: { readonly [what: string]: { readonly word: string; readonly text: string } } = {
  'kept-several': { word: 'kept', text: 'All of them are plates of yours now.' },
  handed: { word: 'handed over', text: 'The plate has another owner, who was told.' },
};

/** Choosing what a plate is clamped with from the rack. */
export const STOCK_WORDS = {
  facing: 'Facing plate from the rack',
  packer: 'Packer from the rack',
  none: 'none named: as thick as typed',
} as const;

export function stackPartText({
  name,
  thicknessMm,
}: {
  readonly name: string;
  readonly thicknessMm: number;
}) {
  return `${name}, ${thicknessMm} mm`;
}

/** Over the list of plates, by whose they are. */
export const PLATES_KICKERS = {
  own: 'Kept drawings of your own',
  shared: 'What others share with you',
  everybodys: 'Everybody’s kept drawings',
} as const;

/** What is wrong with a field of the plate form. */
export const PLATE_FORM_ERRORS = {
  length: 'Give it in mm, for instance 12.5.',
  alloy: 'Choose it from the list.',
  screw: 'Choose it from the list.',
  polymer: 'Choose it from the list.',
  bolster: 'Choose it from the list.',
  noDrawing: 'Choose the drawing of the plate, a DXF file.',
  lost: 'Choose the file again: it did not come along with the form.',
  rack: 'Say it in fewer words.',
  tooLarge:
    'The file is too large: at most 8 MiB are read. Leave out of the drawing what is not part of the plate.',
  shots: 'Give a whole number of shots from 1 to 100 000, or leave it empty.',
  note: 'Say it in at most 1000 characters.',
  name: 'Give the plate a name of at most 80 characters.',
} as const;

/** What is wrong with a field of "More about the plate". */
export const MORE_FORM_ERRORS = {
  draftDeg: 'Give it in degrees, for instance 1.5.',
  cavityCutter: PLATE_FORM_ERRORS.screw,
  cavityCutterMm: PLATE_FORM_ERRORS.length,
  otherCutter: PLATE_FORM_ERRORS.screw,
  otherCutterMm: PLATE_FORM_ERRORS.length,
  groupDiameterMm: PLATE_FORM_ERRORS.length,
  groupHoles: 'Give the numbers of the holes, for instance 3, 4.',
  groupScrew: 'Choose the screw of these holes.',
  groupScrewLengthMm: 'Give the length of these screws in mm.',
  groupSinkDepthMm: PLATE_FORM_ERRORS.length,
  groupSinkDiameterMm: PLATE_FORM_ERRORS.length,
  moreFacts: 'It could not be read.',
} as const;

/** What a figure of a plate cannot be, at its field: "300 mm is not from 2 to 200 mm." */
export function absurdFact(detail: string): string {
  return `${detail.slice(0, 1).toUpperCase()}${detail.slice(1)}.`;
}

export const NOT_BOOKABLE = 'Its check says stop with this resin: the press cannot be booked with it.';

/** On an older revision: which one bookings are made with. */
export function olderText(latest: number): string {
  return `See revision ${latest}, the latest`;
}

export const CHECK_TITLE = 'Before cutting metal';

/** Drawings a newcomer can try, by the name in the address. */
export const SAMPLES = {
  'tile-spacer-4up': 'Tile spacer, 4 up',
  'seed-label-2up': 'Seed label, 2 up',
  'board-counter-8up': 'Board counter, 8 up',
  'bolt-off-grid': 'A plate with one bolt hole 3 mm off',
} as const;

/** "read in mm", "read in inches, turned into mm". */
export function readIn(mmPerUnit: number): string {
  if (mmPerUnit === 25.4) return 'read in inches, turned into mm';
  if (mmPerUnit === 10) return 'read in cm, turned into mm';
  return mmPerUnit === 1000 ? 'read in m, turned into mm' : 'read in mm';
}

/** The name of a plate from the name of its file: "board-counter-8up.dxf" as "Board counter 8up". */
export function nameOfFile(fileName: string): string {
  const words = fileName
    .replace(/\.dxf$/i, '')
    .replace(/[_-]+/g, ' ')
    .trim();
  return words.slice(0, 1).toUpperCase() + words.slice(1, 80);
}
