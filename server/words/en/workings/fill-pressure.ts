import { FILLING_LINES } from './filling.js';
import type { WorkingLine, WorkingWords } from './working-words.js';

function slit(what: string): WorkingLine {
  return {
    what: `${what}: {lengthMm} mm long, {widthMm} mm × {depthMm} mm open, {flowCm3PerS} cm³/s through it, side walls leave {sides}`,
    formula: '2 K L / h × (2 (2 n + 1) / n × 1000 Q / (w h²))^n / sides / 10^6',
    put: '2 × {k} × {lengthMm} / {depthMm} × (2 × (2 × {n} + 1) / {n} × 1000 × {flowCm3PerS} / ({widthMm} × {depthMm}^2))^{n} / {sides} / 10^6',
    gives: '{mpa} MPa',
  };
}

export const fillPressureWorking: WorkingWords = {
  ...FILLING_LINES,
  law: {
    what: '{polymer} at {meltC} °C thins with shear: stress = K × rate^n',
    gives: 'n = {n}, K = {k} Pa s^n',
  },
  layer: {
    what: 'Layer frozen on each wall after half the time to fill, {halfS} s',
    gives: 'x = {layerMm} mm',
  },
  open: {
    what: 'Left open of the mean wall of cavity {cavity}',
    formula: 'wall − 2 x',
    put: '{meanMm} mm − 2 × {layerMm} mm',
    gives: '{openMm} mm',
  },
  sprue: {
    what: 'Pressure along the sprue, a cone from r to R, {lengthMm} mm long',
    formula: '2 K L / (3 n (R − r)) × ((3 n + 1) / n × 1000 Q / 3.1416)^n × (r^(−3 n) − R^(−3 n)) / 10^6',
    put: '2 × {k} × {lengthMm} / (3 × {n} × ({toMm} − {fromMm})) × ((3 × {n} + 1) / {n} × 1000 × {flowCm3PerS} / 3.1416)^{n} × ({fromMm}^(−3 × {n}) − {toMm}^(−3 × {n})) / 10^6',
    gives: '{mpa} MPa',
  },
  'sprue-straight': {
    what: 'Pressure along the sprue, {lengthMm} mm long',
    formula: '2 K L × ((3 n + 1) / n × 1000 Q / 3.1416)^n × r^(−3 n − 1) / 10^6',
    put: '2 × {k} × {lengthMm} × ((3 × {n} + 1) / {n} × 1000 × {flowCm3PerS} / 3.1416)^{n} × {fromMm}^(−3 × {n} − 1) / 10^6',
    gives: '{mpa} MPa',
  },
  runner: slit('Along the runner'),
  gate: slit('Through the gate'),
  cavity: slit('Along the cavity'),
  sum: {
    what: 'Sprue, runner, gate and cavity together',
    put: '{sprueMpa} MPa + {runnerMpa} MPa + {gateMpa} MPa + {cavityMpa} MPa',
    gives: '{totalMpa} MPa',
  },
  band: {
    what: 'Such curves are good to a factor of two: it may take',
    put: '{within} × {totalMpa} MPa',
    gives: '{topMpa} MPa',
  },
  'flow-ratio': {
    what: 'Way in cavity {cavity}, {lengthMm} mm, each stretch over its own depth',
    gives: '{ratio} : 1',
  },
  'ratio-limit': { what: '{polymer} fills walls up to', gives: '{min} : 1 to {max} : 1' },
};
