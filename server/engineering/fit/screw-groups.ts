import { type Finding, VERDICTS_WORST_FIRST } from '../finding.js';
import type { PlateFacts } from '../press-facts.js';
import { screwOfGroup } from './screw-of-bolt.js';
import type { ScrewSeat } from './screw-seats.js';

/**
 * Judges each group of holes as if the plate had its screw alone, and gives the worst finding with the places of all
 * that are not clear. What a group is cured by is said, but is not among what can be tried at once.
 *
 * @param judge given the seats of a group and the plate with the group's screw for all
 */
export function worstOfGroups(
  plate: PlateFacts,
  seats: readonly ScrewSeat[],
  judge: (seats: readonly ScrewSeat[], plate: PlateFacts) => Finding,
): Finding {
  const groups = [...new Set(seats.map(({ group }) => group))];
  if (groups.length === 0) return judge(seats, plate);
  const findings = groups.map((group) => {
    const own = seats.filter((seat) => seat.group === group);
    const finding = judge(own, { ...plate, screw: screwOfGroup(plate, group), screwGroups: [] });
    return group === null ? finding : { ...finding, cures: finding.cures.map(withoutChange) };
  });
  const worst = findings.reduce((one, other) => (isWorse(other, one) ? other : one));
  const others = findings.filter((finding) => finding !== worst && finding.verdict !== 'clear');
  return { ...worst, places: [...worst.places, ...others.flatMap(({ places }) => places)] };
}

function isWorse(one: Finding, other: Finding): boolean {
  const rank = ({ verdict }: Finding) => VERDICTS_WORST_FIRST.indexOf(verdict);
  if (rank(one) !== rank(other)) return rank(one) < rank(other);
  return (one.margin ?? Infinity) < (other.margin ?? Infinity);
}

function withoutChange({ change: _, ...cure }: Finding['cures'][number]): Finding['cures'][number] {
  return cure;
}
