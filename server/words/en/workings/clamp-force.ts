import type { WorkingWords } from './working-words.js';

const PRESSURE = 'p = {pressureMinMpa} MPa to {pressureMaxMpa} MPa';

export const clampForceWorking: WorkingWords = {
  flow: { what: 'Longest flow over wall, and the thinnest wall', gives: '{ratio} : 1, {wallMm} mm' },
  'pressure-whole': { what: 'Mean pressure in a cavity of {polymer}, its usual band', gives: PRESSURE },
  'pressure-upper-half': {
    what: 'Mean pressure in a cavity of {polymer}; thin walls and long flow take the upper half of its band',
    gives: PRESSURE,
  },
  'pressure-beyond': {
    what: 'Mean pressure in a cavity of {polymer}; beyond 200 : 1 it grows with the flow',
    formula: 'p = top of the band × flow over wall / 200',
    put: '{usualMaxMpa} MPa × {ratio} / 200',
    gives: '{pressureMaxMpa} MPa',
  },
  area: { what: 'Projected area of cavities, runners, gates and feed', gives: 'A = {areaMm2} mm²' },
  'opening-force': {
    what: 'Opening force at the top of the band',
    formula: 'F = p × A / 1000',
    put: '{pressureMpa} MPa × {areaMm2} mm² / 1000',
    gives: '{openingKn} kN',
  },
  required: {
    what: 'Clamp force needed, with safety',
    formula: 'N = F × s',
    put: '{openingKn} kN × {safetyFactor}',
    gives: '{requiredKn} kN',
  },
  left: {
    what: 'Left of what the press can set',
    formula: 'largest − N',
    put: '{settableKn} kN − {requiredKn} kN',
    gives: '{leftKn} kN',
  },
};
