import type { WorkingLine, WorkingWords } from './working-words.js';

function way(to: string): WorkingLine {
  return {
    what: `Settled, the plate at {plateC} °C, to ${to}, {overK} K below it`,
    formula: 'conductance × difference',
    put: '{conductanceWPerK} W/K × {overK} K',
    gives: '{watts} W',
  };
}

export const plateWarmingWorking: WorkingWords = {
  'shot-heat': {
    what: 'Heat a shot of {polymer} leaves',
    formula: 'mass × what a gram gives up',
    put: '{massG} g × {jPerG} J/g',
    gives: '{heatJ} J',
  },
  'mean-power': {
    what: 'One shot every {everyS} s',
    put: '{heatJ} J / {everyS} s',
    gives: '{meanW} W',
  },
  'into-plate': {
    what: 'Of it into the plate, {sharePercent} %',
    put: '{meanW} W × {sharePercent} / 100',
    gives: '{inputW} W',
  },
  begins: {
    what: 'In the first minutes the plate rises by',
    formula: 'power × 60 / heat it takes up for a degree',
    put: '{inputW} W × 60 / {capacityJPerK} J/K',
    gives: '{kPerMin} K/min',
  },
  'to-moving-half': way('the moving half at {toC} °C'),
  'to-fixed-half': way('the fixed half at {toC} °C, while shut'),
  'to-room': way('the room at {toC} °C'),
  'to-water': way('the water at {toC} °C'),
  balance: {
    what: 'At {steadyC} °C as much leaves it as comes in',
    put: '{watts}',
    gives: '{inputW} W',
  },
};
