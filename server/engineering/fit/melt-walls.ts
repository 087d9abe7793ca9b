import type { CutFeature, MeasuredDrawing } from '../drawing/measured-drawing.js';
import { type Bounds, boundsGrown, boundsMeet, boundsOf, boundsOfPoints } from '../geometry/bounds.js';
import { regionContains } from '../geometry/contains.js';
import { boundaryDistance } from '../geometry/distance.js';
import { edgesOutside } from '../geometry/edges-outside.js';
import type { Region } from '../geometry/point.js';
import { type CutKind, MEETS_MM, meltWallMm, type Wall } from './wall.js';

/** A cavity, or a way to one. */
interface MeltCut {
  readonly kind: CutKind;
  readonly region: Region;
  readonly bounds: Bounds;
  readonly depthMm: number;
}

const WAYS: readonly (readonly [CutFeature, CutKind])[] = [
  ['RUNNER', 'runner'],
  ['FEED', 'feed'],
];

/**
 * Round a gate, and round a place where a runner runs straight into a cavity, metal is thin on purpose: up to this
 * far it is not judged, mm. A choice of ours.
 */
const ROUND_A_JOINT_MM = 6;

/** A runner crosses a cavity's rim twice where it runs in; more crossings than this are not looked for. */
const MOST_CROSSINGS = 16;

/**
 * Walls between one cavity and another, and between a cavity and a runner or feed that passes it, where they come
 * nearer than practice asks. What joins them is left out.
 */
export function meltWalls(drawing: MeasuredDrawing): readonly Wall[] {
  const cavities = drawing.cavities.map(({ region, maxDepthMm }) => cutOf('cavity', region, maxDepthMm));
  const ways = WAYS.flatMap(([feature, kind]) => {
    const measured = drawing.features[feature];
    return measured === null ? [] : [cutOf(kind, measured.region, measured.maxDepthMm)];
  });
  const gates = (drawing.features.GATE?.region ?? []).map((ring) =>
    boundsGrown(boundsOfPoints(ring), ROUND_A_JOINT_MM),
  );
  return cavities.flatMap((cavity, index) =>
    [...cavities.slice(index + 1), ...ways].flatMap((other) => between(cavity, other, gates)),
  );
}

function cutOf(kind: CutKind, region: Region, depthMm: number): MeltCut {
  return { kind, region, bounds: boundsOf(region), depthMm };
}

function between(cavity: MeltCut, other: MeltCut, gates: readonly Bounds[]): readonly Wall[] {
  const limitMm = meltWallMm(cavity.depthMm, other.depthMm);
  if (!boundsMeet(cavity.bounds, other.bounds, limitMm)) return [];
  const near = boundsGrown(cavity.bounds, limitMm);
  const joints = gates.filter((gate) => boundsMeet(gate, near));
  for (let crossings = 0; crossings < MOST_CROSSINGS; crossings++) {
    const edges = edgesOutside(other.region, near, joints).filter(([a, b]) => {
      return !regionContains(cavity.region, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
    });
    const apart = boundaryDistance(cavity.region, edges);
    if (apart === null || apart.distanceMm >= limitMm) return [];
    if (apart.distanceMm > MEETS_MM) {
      const { distanceMm: leftMm, from: at, to: otherAt } = apart;
      const depthMm = Math.min(cavity.depthMm, other.depthMm);
      const wall = { of: cavity.kind, to: other.kind, leftMm, limitMm, at, otherAt, depthMm };
      return [{ ...wall, mustNotMeet: false, bore: null }];
    }
    joints.push(boundsGrown(boundsOfPoints([apart.from]), ROUND_A_JOINT_MM));
  }
  return [];
}
