import { FILLING_LINES } from './filling.js';
import type { WorkingWords } from './working-words.js';

export const gateShearWorking: WorkingWords = {
  ...FILLING_LINES,
  'cavity-flow': {
    what: 'Of it, into cavity {cavity} by its share of the volume',
    put: '{flowCm3PerS} cm³/s × {cavityMm3} mm³ / {allMm3} mm³',
    gives: '{cavityFlowCm3PerS} cm³/s',
  },
  'inlet-flow': {
    what: 'Of that, through the busiest of its {inlets} gates',
    put: '{cavityFlowCm3PerS} cm³/s × {sharePercent} / 100',
    gives: '{flowCm3PerS} cm³/s',
  },
  shear: {
    what: 'Shear rate at the wall of the gate',
    formula: '6 Q × 1000 / (w h²)',
    put: '6 × {flowCm3PerS} cm³/s × 1000 / ({widthMm} mm × {depthMm}^2)',
    gives: '{shearPerS} 1/s',
  },
};
