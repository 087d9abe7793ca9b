import type { WorkingWords } from './working-words.js';

export const screwEngagementWorking: WorkingWords = {
  bridged: {
    what: 'What the screw bridges: plate less sink, and packer',
    put: '{thicknessMm} mm − {sinkDepthMm} mm + {packerThicknessMm} mm',
    gives: '{bridgedMm} mm',
  },
  engaged: {
    what: 'Thread left for the bolster',
    formula: 'length − bridged',
    put: '{lengthMm} mm − {bridgedMm} mm',
    gives: '{engagedMm} mm',
  },
  least: {
    what: 'At least, in screw diameters',
    put: '{timesDiameter} × {screwMm} mm',
    gives: '{leastMm} mm',
  },
  most: { what: 'At most, as deep as the hole is tapped', gives: '{mostMm} mm' },
};
