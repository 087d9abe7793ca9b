/** What is wrong with the table of holes. */
export const HOLE_TABLE_ERRORS = {
  line: (line: number, wrong: string) => `Line ${line}: ${wrong}`,
  tooMany: (most: number) => `At most ${most} holes are kept.`,
  place: 'begin with x and y in millimetres from the sprue axis, such as -80 -60.',
  far: 'a hole cannot lie farther than 5 m from the sprue axis.',
  thread: (given: string, sizes: readonly string[]) =>
    `“${given}” is not a thread: give one of ${sizes.join(', ')}.`,
  depth: 'the tapped depth is a number from 1 to 200 mm.',
  position: 'the position within is a radius from 0 to 2 mm.',
  more: (word: string) => `“${word}” is one too many; a line has x, y, thread, depth and position within.`,
} as const;

export const OPENING_TABLE_ERRORS = {
  line: (line: number, wrong: string) => `Line ${line}: ${wrong}`,
  tooMany: (most: number) => `At most ${most} openings are kept.`,
  shape:
    'give “circle x y diameter”, “rectangle x y width height” with its middle, or “outline x y x y x y”, in millimetres.',
  far: 'an opening cannot lie farther than 5 m from the sprue axis.',
} as const;

export const HOLE_GRID_ERRORS = {
  leaveOut: (word: string, columns: number, rows: number) =>
    `“${word}” is no column and row of the grid: give such as 5,4, up to ${columns},${rows}.`,
} as const;

/** What is wrong with other fields of the forms of this room. */
export const PRESS_FORM_ERRORS = {
  choose: 'Choose one.',
  name: 'Give it a name that can be told apart on the floor.',
  why: 'Say why, in at most 200 characters.',
  both: 'Give both, or leave both empty.',
  noDrawing: 'Choose the DXF of the face first.',
  tooLarge: 'The file is over 8 MiB; export the face alone.',
  inspectedBy: 'Name who inspected it.',
  note: 'Say what was looked at and found, in at most 500 characters.',
  day: 'Give the day as year, month and day, for instance 2026-11-26.',
  time: 'Give a time of day, for instance 14:00.',
  skipped: 'The clocks go forward that night: this time does not come that day.',
  reason: 'Say why, in at most 200 characters.',
} as const;

/** Cells of the form that are no facts of the bolster. */
export const BOLSTER_FORM_LABELS = {
  name: { label: 'Name of the bolster' },
  thread: { label: 'Thread' },
  holeDepthMm: { label: 'Tapped depth', unit: 'mm' },
  holePositionMm: { label: 'Hole position within', unit: 'mm', hint: 'As a radius' },
  gridColumns: { label: 'Columns' },
  gridRows: { label: 'Rows' },
  gridPitchXMm: { label: 'Pitch across', unit: 'mm' },
  gridPitchYMm: { label: 'Pitch upright', unit: 'mm' },
  gridFirstXMm: { label: 'First hole, x', unit: 'mm', hint: 'Lower left; empty: round the sprue' },
  gridFirstYMm: { label: 'First hole, y', unit: 'mm', hint: 'Lower left; empty: round the sprue' },
  gridLeaveOut: { label: 'Leave out', hint: 'Column and row from the lower left, such as 5,4 1,1' },
  dxf: { label: 'Drawing of the face' },
  why: { label: 'Why' },
} as const;
