import { z } from 'zod';
import { type TrialPlan, trialSteps } from '../../engineering/run/trial-steps.js';
import type { Asker } from '../../http/asker.js';
import { checkGround } from '../../plates/check-ground.js';
import { type ReportWish, storedReport } from '../../plates/stored-report.js';
import { Refusal } from '../../reasons.js';

/** What an estimate takes from a stored report. */
const estimateGround = z.object({
  drawing: z.object({ volumeMm3: z.object({ moulded: z.number() }) }),
  findings: z.array(z.object({ check: z.string(), figures: z.record(z.string(), z.unknown()) })),
});

/** A trial's plan and what it was made for. */
export interface PreparedPlan {
  readonly plan: TrialPlan;
  readonly bolsterId: string;
  readonly bolsterVersion: number;
}

type Wanted = Pick<ReportWish, 'plateId' | 'revision' | 'polymer'>;

/** Estimates a trial's steps on the bolster that is mounted now; a report that is missing is computed for it. */
export async function preparePlan(
  house: Parameters<typeof storedReport>[0],
  { plateId, revision, polymer }: Wanted,
  asker: Asker,
): Promise<PreparedPlan | Refusal> {
  const ground = await checkGround(house.database, house.now(), null);
  if (ground instanceof Refusal) return ground;
  const wish = { plateId, revision, polymer, bolsterId: ground.bolster.id };
  const report = await storedReport(house, wish, asker);
  if (report instanceof Refusal) return report;
  const { drawing, findings } = estimateGround.parse(JSON.parse(report.json));
  const figuresOf = (check: string) => findings.find((one) => one.check === check)?.figures ?? {};
  const land = figuresOf('land-pressure');
  const force = figuresOf('clamp-force');
  const { clamp, injection, intensification } = ground.press.facts;
  const [windowMin, windowMax] = [numberOr(land.windowMinKn), numberOr(land.windowMaxKn)];
  const plan = trialSteps({
    mouldedMm3: drawing.volumeMm3.moulded,
    sprue: ground.bolster.facts.sprue,
    screwDiameterMm: injection.screwDiameterMm,
    shotCm3: injection.shotCm3,
    maxPressureMpa: injection.maxPressureMpa,
    intensification,
    clampWindowKn: windowMin === null || windowMax === null ? null : { min: windowMin, max: windowMax },
    clampNeededKn: numberOr(force.requiredMaxKn),
    clampSettableKn: { min: clamp.minKn, max: clamp.maxKn },
    cavityPressureMpa: {
      min: numberOr(force.pressureMinMpa) ?? 0,
      max: numberOr(force.pressureMaxMpa) ?? 0,
    },
  });
  return { plan, bolsterId: ground.bolster.id, bolsterVersion: ground.bolster.version };
}

function numberOr(value: unknown): number | null {
  return typeof value === 'number' ? value : null;
}
