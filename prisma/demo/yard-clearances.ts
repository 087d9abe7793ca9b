import type { Step } from '../../server/plates/clearance/steps.js';
import type { YardMember } from './gullwing-yard.js';

/** How far a plate of the yard has come, and who decided. Those left out are not cut yet. */
export interface YardClearance {
  readonly plate: string;
  /** Where it lies. */
  readonly place: string;
  readonly steward: YardMember;
  /** At the four corners, mm; left out for one that waits to be measured. */
  readonly thicknessMm?: readonly [number, number, number, number];
  /** The step that was decided last; those before it were cleared. */
  readonly through?: Step;
  /** What was wrong; it was refused at that step. */
  readonly refused?: string;
  readonly trial?: string;
  readonly polymers?: readonly string[];
}

/** Most are in production; one waits to be measured, one for its trial, and one was refused. */
export const YARD_CLEARANCES: readonly YardClearance[] = [
  {
    plate: 'off-grid',
    place: 'Rack C, floor',
    steward: 'kofi',
    thicknessMm: [16.02, 16.01, 16.0, 16.01],
    through: 'fit',
    refused:
      'Does not screw on: one bolt hole stands off the bolster’s hole by two millimetres. Drill it where the check says, as a new revision.',
  },
  {
    plate: 'label',
    place: 'Rack A, shelf 1',
    steward: 'odile',
    thicknessMm: [16.0, 16.01, 16.01, 16.0],
    through: 'production',
    trial: 'PP, short shots from 1 to 2 cm³, full at the third; no flash at 150 kN.',
    polymers: ['PP'],
  },
  {
    plate: 'tile',
    place: 'Rack A, shelf 2',
    steward: 'odile',
    thicknessMm: [16.01, 16.02, 16.0, 16.01],
    through: 'production',
    trial: 'PP, all four cavities full together at 6 cm³; no flash at 200 kN.',
    polymers: ['PP', 'HDPE'],
  },
  {
    plate: 'hive',
    place: 'Rack A, shelf 3',
    steward: 'kofi',
    thicknessMm: [16.0, 16.0, 15.99, 16.0],
    through: 'production',
    trial: 'PP; vents taken down by two hundredths after the second short shot, then clean.',
    polymers: ['PP'],
  },
  {
    plate: 'riser',
    place: 'Rack B, shelf 1',
    steward: 'odile',
    thicknessMm: [15.98, 15.99, 16.0, 15.99],
    through: 'production',
    trial: 'HDPE, filled at the fourth step; parts lift off by the runner.',
    polymers: ['HDPE'],
  },
  {
    plate: 'shim',
    place: 'Rack B, shelf 2',
    steward: 'kofi',
    thicknessMm: [16.03, 16.02, 16.02, 16.03],
    through: 'production',
    trial: 'HDPE, slow fill; the radius comes out whole.',
    polymers: ['HDPE'],
  },
  {
    plate: 'clip',
    place: 'Rack B, shelf 3',
    steward: 'odile',
    thicknessMm: [16.0, 16.01, 16.0, 16.0],
    through: 'production',
    trial: 'PP, the snap end fills last; a second vent there helped.',
    polymers: ['PP'],
  },
  {
    plate: 'pull',
    place: 'Rack B, shelf 4',
    steward: 'kofi',
    thicknessMm: [16.01, 16.0, 16.0, 15.99],
    through: 'fit',
  },
  { plate: 'token', place: 'Bench, steward’s tray', steward: 'odile' },
];

/** What is said of a caution that was accepted. */
export const YARD_ACCEPTED =
  'Looked at in the trial: it does no harm there. Watch it, and say so if it does.';
