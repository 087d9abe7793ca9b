import type { WorkingWords } from './working-words.js';

export const daylightWorking: WorkingWords = {
  stack: {
    what: 'The stack: plate, facing plate, packer',
    put: '{thicknessMm} mm + {facingThicknessMm} mm + {packerThicknessMm} mm',
    gives: '{stackMm} mm',
  },
  'above-least': {
    what: 'Over the least daylight',
    put: '{stackMm} mm − {minimumDaylightMm} mm',
    gives: '{leftMm} mm',
  },
  'below-largest': {
    what: 'Under the largest stack',
    put: '{largestStackMm} mm − {stackMm} mm',
    gives: '{leftMm} mm',
  },
};
