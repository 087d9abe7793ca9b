import type { WorkingWords } from './working-words.js';

export const shotVolumeWorking: WorkingWords = {
  sprue: {
    what: 'The sprue, a cone cut off at both ends',
    formula: 'V = 3.1416 / 12 × L × (d² + d D + D²)',
    put: '3.1416 / 12 × {lengthMm} mm × ({startMm}^2 + {startMm} × {endMm} + {endMm}^2)',
    gives: '{sprueMm3} mm³',
  },
  cold: {
    what: 'The cold shot: cavities, runners, gates and feed, and the sprue',
    put: '{mouldedMm3} mm³ + {sprueMm3} mm³',
    gives: '{coldMm3} mm³',
  },
  melt: {
    what: 'The same mass of {polymer} as melt',
    formula: 'V = cold × density cold / density as melt',
    put: '{coldMm3} mm³ × {solid} g/cm³ / {melt} g/cm³',
    gives: '{meltMm3} mm³',
  },
  way: {
    what: 'Way of the screw for it',
    formula: 's = V / (3.1416 / 4 × D²)',
    put: '{meltMm3} mm³ / (3.1416 / 4 × {screwDiameterMm}^2)',
    gives: '{wayMm} mm',
  },
  longest: {
    what: 'Its whole way, from the rated shot',
    put: '{shotMm3} mm³ / (3.1416 / 4 × {screwDiameterMm}^2)',
    gives: '{longestMm} mm',
  },
  shortest: {
    what: 'Below so many screw diameters metering gets uneven',
    put: '{times} × {screwDiameterMm} mm',
    gives: '{shortestMm} mm',
  },
};
