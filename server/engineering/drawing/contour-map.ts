import { differenceOf } from '../geometry/boolean.js';
import { boundsHold } from '../geometry/bounds.js';
import { eachMeetingPair } from '../geometry/box-pairs.js';
import type { Region, Ring } from '../geometry/point.js';
import { clusters } from './clusters.js';
import { type Cut, relationOf } from './cut.js';
import { type CutArea, joinedByDepth } from './joined-by-depth.js';

/**
 * The area of cuts that touch one another, whole and by depth: where contours nest the innermost says how deep, down
 * to depth 0 for an island; where cuts cross without nesting the deepest does.
 */
export function cutAreas(cuts: readonly Cut[]): readonly CutArea[] {
  const inside: number[][] = cuts.map(() => []);
  const tangled: boolean[] = cuts.map(() => false);
  const links: [number, number][] = [];
  eachMeetingPair(
    cuts.map(({ bounds }) => bounds),
    (i, j) => {
      const relation = relationOf(cuts[i] as Cut, cuts[j] as Cut);
      if (relation.kind === 'apart') return;
      links.push([i, j]);
      if (relation.kind === 'nested') {
        const [inner, outer] = relation.inner === 0 ? [i, j] : [j, i];
        (inside[outer] as number[]).push(inner);
      }
      if (relation.kind === 'crossing' || !relation.clear) tangled[i] = true;
    },
  );
  return clusters(cuts.length, links).flatMap((members) => {
    if (members.some((i) => tangled[i])) return tangledAreas(cuts, inside, members);
    return nestedArea(cuts, inside, members) ?? [];
  });
}

/** Contours clear of one another: their own lines bound every level, whichever side is cut deeper. */
function nestedArea(
  cuts: readonly Cut[],
  inside: readonly number[][],
  members: readonly number[],
): CutArea | null {
  const around = new Map<number, number>();
  for (const outer of members) {
    for (const inner of inside[outer] as number[]) {
      const known = around.get(inner);
      if (known === undefined || boundsHold((cuts[known] as Cut).bounds, (cuts[outer] as Cut).bounds)) {
        around.set(inner, outer);
      }
    }
  }
  const whole: Ring[] = [];
  const byDepth = new Map<number, Ring[]>();
  const bound = (depthMm: number, region: Region) => {
    if (depthMm === 0) return;
    const rings = byDepth.get(depthMm);
    if (rings) rings.push(...region);
    else byDepth.set(depthMm, [...region]);
  };
  for (const i of members) {
    const { depthMm, region } = cuts[i] as Cut;
    const outer = around.get(i);
    const outside = outer === undefined ? 0 : (cuts[outer] as Cut).depthMm;
    if (depthMm === outside) continue;
    const turned = region.map((ring) => [...ring].reverse());
    bound(depthMm, region);
    bound(outside, turned);
    if (outside === 0) whole.push(...region);
    else if (depthMm === 0) whole.push(...turned);
  }
  const levels = [...byDepth].map(([depthMm, region]) => ({ depthMm, region }));
  return levels.length === 0 ? null : { region: whole, levels: levels.sort((a, b) => a.depthMm - b.depthMm) };
}

/** Cuts that cross or share lines: each loses what lies inside it, then the deeper take from the shallower. */
function tangledAreas(
  cuts: readonly Cut[],
  inside: readonly number[][],
  members: readonly number[],
): readonly CutArea[] {
  const own = members.flatMap((i) => {
    const { depthMm, region } = cuts[i] as Cut;
    const inner = (inside[i] as number[]).map((k) => (cuts[k] as Cut).region);
    if (depthMm === 0) return [];
    const left = inner.length === 0 ? region : differenceOf(region, inner.flat());
    return { region: left, levels: [{ depthMm, region: left }] };
  });
  return joinedByDepth(own);
}
