import type { Bolt } from '../drawing/measured-drawing.js';
import type { PlateFacts, ScrewFacts } from '../press-facts.js';
import { threadDiameterMm } from './fasteners/iso-261-threads.js';

/** A hole drawn this near to a diameter has it: drawings in inches are rounded, mm. */
const SAME_DIAMETER_MM = 0.02;

/** Which of the plate's screw groups a bolt hole is in: one that names it before one that names its diameter. */
export function screwGroupOf(
  { screwGroups }: Pick<PlateFacts, 'screwGroups'>,
  bolts: readonly Bolt[],
  bolt: number,
): number | null {
  const named = screwGroups.findIndex(({ holes }) => holes.includes(bolt + 1));
  if (named >= 0) return named;
  const drawnMm = bolts[bolt]?.diameterMm ?? 0;
  const byDiameter = screwGroups.findIndex(
    ({ holeDiameterMm }) => holeDiameterMm !== null && Math.abs(holeDiameterMm - drawnMm) <= SAME_DIAMETER_MM,
  );
  return byDiameter >= 0 ? byDiameter : null;
}

/** The screw of a group, or that of all other holes. */
export function screwOfGroup(
  { screw, screwGroups }: Pick<PlateFacts, 'screw' | 'screwGroups'>,
  group: number | null,
): ScrewFacts {
  return (group === null ? undefined : screwGroups[group]?.screw) ?? screw;
}

/** The screw of a bolt hole. */
export function screwOfBolt(
  plate: Pick<PlateFacts, 'screw' | 'screwGroups'>,
  bolts: readonly Bolt[],
  bolt: number,
): ScrewFacts {
  return screwOfGroup(plate, screwGroupOf(plate, bolts, bolt));
}

/**
 * Nominal diameter of every bolt hole's screw, mm.
 * @throws RangeError for a screw size that the tables do not have
 */
export function screwDiametersMm(
  plate: Pick<PlateFacts, 'screw' | 'screwGroups'>,
  bolts: readonly Bolt[],
): readonly number[] {
  const known = [plate.screw, ...plate.screwGroups.map(({ screw }) => screw)];
  for (const { size } of known) if (threadDiameterMm(size) === null) throw new RangeError(`no screw ${size}`);
  return bolts.map((_, bolt) => threadDiameterMm(screwOfBolt(plate, bolts, bolt).size) ?? 0);
}
