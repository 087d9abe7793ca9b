import type { WorkingLine, WorkingWords } from './working-words.js';

function shrunk(what: string): WorkingLine {
  return {
    what,
    formula: 'part = cavity × (1 − S / 100)',
    put: '{cavityMm} mm × (1 − {percent} / 100)',
    gives: '{partMm} mm',
  };
}

export const shrinkageWorking: WorkingWords = {
  band: { what: '{polymer} shrinks by', gives: 'S = {minPercent} % to {maxPercent} %' },
  'part-largest': shrunk('The longest side of the largest part, if it shrinks least'),
  'part-smallest': shrunk('The same, if it shrinks most'),
  scale: {
    what: 'To get a wanted size, cut it larger by',
    formula: '1 / (1 − S / 100)',
    put: '1 / (1 − {percent} / 100)',
    gives: '{scale}',
  },
  ratio: {
    what: 'Thickest section over the thinnest wall',
    put: '{thickMm} mm / {thinMm} mm',
    gives: '{ratio}',
  },
};
