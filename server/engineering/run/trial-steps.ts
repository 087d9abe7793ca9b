import { holdSteps } from './hold-steps.js';
import { type ShotEstimate, type ShotGround, shotEstimate } from './shot-estimate.js';
import { type ClampGround, startingForce, strongerForces } from './trial-clamp.js';

export const TRIAL_STEP_KINDS = [
  'close-gently',
  'short-shot',
  'full-shot',
  'hold',
  'flash-check',
  'part-release',
  'clamp-force',
] as const;

export type TrialStepKind = (typeof TRIAL_STEP_KINDS)[number];

/** What one step sets; null where there is nothing to set, or no figure for it. */
export interface TrialSetting {
  /** How far the screw goes forward while it fills, mm. */
  readonly screwMm: number | null;
  /** How far it is drawn back before: the way forward and the cushion left before it, mm. */
  readonly meterMm: number | null;
  readonly clampKn: number | null;
  /** In the melt, at the screw. 0: without hold. */
  readonly holdMpa: number | null;
  /** What the machine's gauge shows for it; null where its intensification is not known. */
  readonly holdGaugeBar: number | null;
}

export interface TrialStep {
  /** `hold-2`: the kind, and for what is stepped its number, or of a short shot its percentage. */
  readonly name: string;
  readonly kind: TrialStepKind;
  /** Of the estimated shot; null but for short and full shots. */
  readonly percent: number | null;
  /** True for what is only done where the step before asks for it. */
  readonly asNeeded: boolean;
  readonly set: TrialSetting;
}

export interface TrialPlan {
  readonly shot: ShotEstimate;
  /** Where the clamp's figures come from; `unknown`: the report has none. */
  readonly clampFrom: 'window' | 'needed' | 'unknown';
  readonly steps: readonly TrialStep[];
}

/** All that a trial is estimated from: the plate's check, and the press as it was checked on. */
export interface TrialGround extends ShotGround, ClampGround {
  /** Mean pressure on the projected area while the cavities are packed, MPa: the polymer's band. */
  readonly cavityPressureMpa: { readonly min: number; readonly max: number };
  readonly maxPressureMpa: number;
  readonly intensification: number | null;
}

/**
 * Shares of the estimated shot for the short shots. The first leaves the cavities half empty, so that nothing can
 * flash; the last ones come close together, because there the plate begins to be pressed open.
 * Common practice, no source.
 */
const SHORT_SHOT_PERCENT = [50, 70, 85, 95] as const;

/**
 * The steps of an attended first run: closed gently and looked at, short shots stepped up without hold, full without
 * hold, hold in steps, then flash at the rim, release of the part, and more clamp force only where flash asks for it.
 * The clamp stands at the lower end of its window from the first shot on.
 * The order is common practice, no source. Lengths mm, forces kN, pressures MPa in the melt, gauge bar.
 */
export function trialSteps(ground: TrialGround): TrialPlan {
  const shot = shotEstimate(ground);
  const clampKn = startingForce(ground);
  const base: TrialSetting = { screwMm: null, meterMm: null, clampKn, holdMpa: null, holdGaugeBar: null };
  const filled = (percent: number): TrialSetting => {
    const screwMm = (shot.screwMm * percent) / 100;
    return { ...base, screwMm, meterMm: screwMm + shot.cushionMm, holdMpa: 0, holdGaugeBar: 0 };
  };
  const full = filled(100);
  const holds = holdSteps(ground);
  const last = { ...full, ...holds.at(-1) };
  const steps: readonly TrialStep[] = [
    // Closed without force: whatever force the press closes with at its gentlest.
    step('close-gently', { ...base, clampKn: null }),
    ...SHORT_SHOT_PERCENT.map((percent) => step('short-shot', filled(percent), { number: percent, percent })),
    step('full-shot', full, { percent: 100 }),
    ...holds.map((hold, i) => step('hold', { ...full, ...hold }, { number: i + 1 })),
    step('flash-check', last),
    step('part-release', last),
    ...strongerForces(ground).map((force, i) =>
      step('clamp-force', { ...last, clampKn: force }, { number: i + 1, asNeeded: true }),
    ),
  ];
  const clampFrom = clampKn === null ? 'unknown' : ground.clampWindowKn === null ? 'needed' : 'window';
  return { shot, clampFrom, steps };
}

function step(
  kind: TrialStepKind,
  set: TrialSetting,
  more: { readonly number?: number; readonly percent?: number; readonly asNeeded?: boolean } = {},
): TrialStep {
  const { number, percent = null, asNeeded = false } = more;
  return { name: number === undefined ? kind : `${kind}-${number}`, kind, percent, asNeeded, set };
}
