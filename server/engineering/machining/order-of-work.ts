/**
 * The order a plate is cut in: true faces before anything is measured from them, holes while the metal is whole,
 * finishing after all roughing has let the stress out, vents last, on the face as it stays. Common practice, no source.
 */
export const STEPS_OF_WORK = [
  'face',
  'edges',
  'holes',
  'dowels',
  'sinks',
  'water',
  'openings',
  'rough',
  'finish',
  'vents',
  'deburr',
  'measure',
] as const;

export type WorkStep = (typeof STEPS_OF_WORK)[number];
