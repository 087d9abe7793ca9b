import type { WorkingWords } from './working-words.js';

/** How long filling takes, and the flow that makes it so. */
export const FILLING_LINES = {
  'fill-time': {
    what: 'Time to fill, by the thinnest wall and the size of the shot',
    formula: 't = 0.5 × wall × (melt / 8)^(1 / 3)',
    put: '0.5 × {wallMm} × ({meltCm3} / 8)^(1 / 3)',
    gives: '{fillS} s',
  },
  'fill-shortest': { what: 'Time to fill, not shorter than is steered well', gives: 't = {fillS} s' },
  'fill-by-press': {
    what: 'Time to fill, as fast as the press can',
    formula: 't = melt / largest flow',
    put: '{meltCm3} cm³ / {maxFlowCm3PerS} cm³/s',
    gives: '{fillS} s',
  },
  flow: {
    what: 'Flow through the sprue',
    formula: 'Q = melt / t',
    put: '{meltCm3} cm³ / {fillS} s',
    gives: '{flowCm3PerS} cm³/s',
  },
} as const satisfies WorkingWords;
