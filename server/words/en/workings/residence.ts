import type { WorkingWords } from './working-words.js';

export const residenceWorking: WorkingWords = {
  barrel: {
    what: 'What the barrel holds',
    formula: 'B = rated shots in it × rated shot',
    put: '{barrelShots} × {shotCm3} cm³',
    gives: '{barrelCm3} cm³',
  },
  cycle: {
    what: 'One shot from closing to closing',
    formula: 'c = close, open, take out + fill + cool',
    put: '{dryS} s + {fillS} s + {coolS} s',
    gives: '{cycleS} s',
  },
  stay: {
    what: 'Stay in the barrel',
    formula: 't = B / melt of a shot × c / 60',
    put: '{barrelCm3} cm³ / {meltCm3} cm³ × {cycleS} s / 60',
    gives: '{minutes} min',
  },
  limit: { what: '{polymer} at {meltC} °C bears', gives: '{limitMin} min' },
  warned: {
    what: 'Such a remembered limit is good to a factor of two: warned beyond',
    put: '{times} × {limitMin} min',
    gives: '{warnedMin} min',
  },
};
