import type { WorkingWords } from './working-words.js';

export const landPressureWorking: WorkingWords = {
  land: {
    what: 'Flat metal that presses: the outline less every cut, sink and hole',
    gives: 'A = {landMm2} mm²',
  },
  allowable: {
    what: 'What it may be pressed with, a share of the proof stress of the softest face',
    put: '{share} × {proofMpa} MPa',
    gives: 'p = {allowableMpa} MPa',
  },
  'face-bears': { what: 'What the bolster’s face is recorded to bear', gives: 'p = {allowableMpa} MPa' },
  carried: {
    what: 'Highest clamp force, evenly pressed',
    formula: 'N = p × A / 1000',
    put: '{allowableMpa} MPa × {landMm2} mm² / 1000',
    gives: '{carriedKn} kN',
  },
  'back-carries': {
    what: 'Highest clamp force, by what the bolster’s face bears behind the plate',
    formula: 'N = p × A / 1000',
    put: '{faceMpa} MPa × {backMm2} mm² / 1000',
    gives: '{carriedKn} kN',
  },
  'carried-tilting': {
    what: 'Highest, if the platens tilt: a kN then presses hardest with {peakMpaPerKn} MPa',
    put: '{allowableMpa} MPa / {peakMpaPerKn} MPa',
    gives: '{carriedTiltingKn} kN',
  },
  needed: {
    what: 'Lowest clamp force: required force times what tilting asks for',
    put: '{requiredKn} kN × {ratio}',
    gives: '{neededKn} kN',
  },
  'needed-lowest': {
    what: 'Lowest clamp force: the press’s lowest setting, above the {requiredKn} kN required',
    gives: '{neededKn} kN',
  },
};
