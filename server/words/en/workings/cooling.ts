import type { WorkingLine, WorkingWords } from './working-words.js';

const WAYS = { deep: 'the depth', wide: 'the width' } as const;

/** What Fourier's series leaves through two faces `mm` apart, in the form that is good to a percent at that time. */
function slab(way: keyof typeof WAYS): WorkingWords {
  const where = `Excess left after {seconds} s through ${WAYS[way]} of {mm} mm`;
  const x = '9.8696 × {fourier}';
  const line = (rest: Omit<WorkingLine, 'what' | 'gives'>): WorkingLine => ({
    what: `${where}, with a t / s² = {fourier}`,
    ...rest,
    gives: '{left}',
  });
  return {
    [`${way}-centre-all`]: { what: `${where}, at the middle: nothing has got there yet`, gives: '{left}' },
    [`${way}-centre-terms`]: line({
      formula: '4 / 3.1416 × (exp(−x) − exp(−9 x) / 3 + exp(−25 x) / 5), x = 3.1416² a t / s²',
      put: `4 / 3.1416 × (exp(−${x}) − exp(−9 × ${x}) / 3 + exp(−25 × ${x}) / 5)`,
    }),
    [`${way}-centre-term`]: line({
      formula: '4 / 3.1416 × exp(−3.1416² a t / s²)',
      put: `4 / 3.1416 × exp(−${x})`,
    }),
    [`${way}-average-all`]: { what: `${where}, on average`, gives: '{left}' },
    [`${way}-average-early`]: line({
      formula: '1 − 4 × sqrt(a t / s² / 3.1416)',
      put: '1 − 4 × sqrt({fourier} / 3.1416)',
    }),
    [`${way}-average-term`]: line({
      formula: '8 / 3.1416² × exp(−3.1416² a t / s²)',
      put: `8 / 9.8696 × exp(−${x})`,
    }),
  };
}

export const coolingWorking: WorkingWords = {
  temperatures: {
    what: 'Temperatures of {polymer} that belong together',
    gives: 'melt {meltC} °C, mould {mouldC} °C, ejection {ejectionC} °C',
  },
  diffusivity: { what: 'Heat spreads in {polymer} by', gives: 'a = {a} mm²/s' },
  'may-be-left': {
    what: 'Of the melt’s excess over the mould, at ejection there may be left',
    formula: '(ejection − mould) / (melt − mould)',
    put: '({ejectionC} − {mouldC}) / ({meltC} − {mouldC})',
    gives: '{wanted}',
  },
  ...slab('deep'),
  ...slab('wide'),
  product: {
    what: 'Both ways together, after {seconds} s: as much as may be left',
    put: '{throughDepth} × {throughWidth}',
    gives: '{left}',
  },
  'rod-centre': {
    what: 'Excess left in the middle of {mm} mm across after {seconds} s: as much as may be left',
    formula: '1.602 × exp(−23.13 a t / D²)',
    put: '1.602 × exp(−23.13 × {a} × {seconds} / {mm}^2)',
    gives: '{left}',
  },
  'rod-average': {
    what: 'Excess left on average in {mm} mm across after {seconds} s, enough to be gripped: as much as may be left',
    formula: '0.6917 × exp(−23.13 a t / D²)',
    put: '0.6917 × exp(−23.13 × {a} × {seconds} / {mm}^2)',
    gives: '{left}',
  },
  cycle: {
    what: 'One shot from closing to closing',
    formula: 'close, open, take out + fill + cool',
    put: '{dryS} s + {fillS} s + {coolS} s',
    gives: '{cycleS} s',
  },
};
