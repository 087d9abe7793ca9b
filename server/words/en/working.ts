import type { CheckName, Figures, Finding, Step } from '../../engineering/finding.js';
import { clampForceWorking } from './workings/clamp-force.js';
import { coolingWorking } from './workings/cooling.js';
import { daylightWorking } from './workings/daylight.js';
import { fillPressureWorking } from './workings/fill-pressure.js';
import { gateShearWorking } from './workings/gate-shear.js';
import { landPressureWorking } from './workings/land-pressure.js';
import { plateWarmingWorking } from './workings/plate-warming.js';
import { residenceWorking } from './workings/residence.js';
import { screwEngagementWorking } from './workings/screw-engagement.js';
import { shotVolumeWorking } from './workings/shot-volume.js';
import { shrinkageWorking } from './workings/shrinkage.js';
import type { WorkingWords } from './workings/working-words.js';

const WORKINGS: { readonly [check in CheckName]?: WorkingWords } = {
  'screw-engagement': screwEngagementWorking,
  daylight: daylightWorking,
  'clamp-force': clampForceWorking,
  'land-pressure': landPressureWorking,
  'shot-volume': shotVolumeWorking,
  residence: residenceWorking,
  'gate-shear': gateShearWorking,
  'fill-pressure': fillPressureWorking,
  cooling: coolingWorking,
  'plate-warming': plateWarmingWorking,
  shrinkage: shrinkageWorking,
};

/** A step in words. */
export interface WordedStep {
  /** "Opening force: F = p × A / 1000 = 48 MPa × 1910 mm² / 1000 = 91.68 kN" */
  readonly text: string;
  readonly source: string;
  readonly basis: Step['basis'];
}

/** Says how a finding's figure comes about. Throws when the check has no line for a step. */
export function wordWorking({ check, working = [] }: Finding): WordedStep[] {
  return working.map(({ says, figures, source, basis }) => {
    const line = WORKINGS[check]?.[says];
    if (line === undefined) throw new Error(`no line for ${check} step ${says}`);
    const parts = [
      line.formula,
      line.put === undefined ? undefined : filledIn(line.put, figures, true),
      filledIn(line.gives, figures, false),
    ];
    const sum = parts.filter((part) => part !== undefined).join(' = ');
    return { text: `${filledIn(line.what, figures, false)}: ${sum}`, source, basis };
  });
}

function filledIn(template: string, figures: Figures, inFormula: boolean): string {
  return template.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = figures[name];
    if (value === undefined) throw new Error(`a step without the figure ${name}`);
    if (typeof value === 'string') return value;
    if (typeof value === 'number') return written(value, inFormula);
    return value.map((one) => written(one, inFormula)).join(' + ');
  });
}

const DIGITS = 4;

/** Four digits that tell, never fewer before the point: what is put into a formula gives what comes out, to a percent. */
function written(value: number, inFormula: boolean): string {
  const size = Math.abs(value);
  const whole = size === 0 ? 0 : Math.floor(Math.log10(size));
  const text = size.toFixed(Math.min(9, Math.max(0, DIGITS - 1 - whole)));
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  if (value >= 0 || Number(short) === 0) return short;
  return inFormula ? `(−${short})` : `−${short}`;
}
