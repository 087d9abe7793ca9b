import type { Cavity } from '../drawing/measured-drawing.js';
import { areaOf, ringAreaOf } from '../geometry/area.js';
import { unionOf } from '../geometry/boolean.js';
import type { Region, Ring } from '../geometry/point.js';
import { polygonsOf } from '../geometry/polygons.js';
import type { Polymer, TemperatureSet } from '../polymers/polymer.js';

/** Poisson's ratio of a moulded part. Handbook value, from memory. */
const POISSON = 0.4;

/** How hard a polymer pulls itself onto metal at ejection, by one set of temperatures. */
export interface Pull {
  /** Linear contraction from where it no longer flows to ejection, as a share. */
  readonly contraction: number;
  /** Stress of a bar that is held while it contracts so far; no more than it bears, MPa. */
  readonly heldMpa: number;
}

/**
 * contraction = expansion x (no-flow - ejection); held stress = modulus x share left when hot x contraction, at most
 * the strength that is left. All handbook values, from memory: good to a factor of two.
 */
export function pullOf(polymer: Polymer, { ejectionC }: TemperatureSet): Pull {
  const { expansionPpmPerK, modulusMpa, strengthMpa, hotShare, temperatures } = polymer;
  const coolsK = Math.max(0, temperatures.noFlowC.usual - ejectionC);
  const contraction = expansionPpmPerK.usual * 1e-6 * coolsK;
  const heldMpa = Math.min(modulusMpa.usual * contraction, strengthMpa.usual) * hotShare.usual;
  return { contraction, heldMpa };
}

/**
 * Pressure of a ring on a rigid core, MPa: Lame's thick ring, p = s (b^2 - a^2) / ((1 - v) a^2 + (1 + v) b^2) with s
 * the held stress, a the core's and b the ring's outer radius. A thin ring gives s t / a; an endless sheet s / (1 + v).
 */
export function ringPressureMpa(heldMpa: number, coreRadiusMm: number, outerRadiusMm: number): number {
  const [a2, b2] = [coreRadiusMm ** 2, outerRadiusMm ** 2];
  return (heldMpa * (b2 - a2)) / ((1 - POISSON) * a2 + (1 + POISSON) * b2);
}

/**
 * Force to push a part off what stands in its cavity, per unit of friction, N: the normal force on the cores. The
 * cavity is taken in slices between its depths: in each, metal that the part lies round is a core. A core of any
 * outline counts as a round one of the same girth, in the part's share of plastic as a ring. Divide no further: a
 * factor of two is in the material already. Proportional to the part's thickness and height and hardly to the core's
 * radius, as Shen, Chen and Jiang measured on moulded cones (Calculation of ejection force of hollow, thin walled,
 * and injection moulded cones, 1999).
 */
export function coreForceN(cavity: Pick<Cavity, 'levels' | 'region'>, heldMpa: number): number {
  let fromMm = 0;
  let forceN = 0;
  cavity.levels.forEach(({ depthMm }, from) => {
    const heightMm = depthMm - fromMm;
    fromMm = depthMm;
    if (heightMm <= 0) return;
    const deeper = cavity.levels.slice(from).map(({ region }) => region);
    const slice = from === 0 ? cavity.region : deeper.length === 1 ? (deeper[0] as Region) : unionOf(deeper);
    for (const part of polygonsOf(slice)) forceN += heightMm * forcePerMm(part, heldMpa);
  });
  return forceN;
}

function forcePerMm(part: Region, heldMpa: number): number {
  const cores = part.filter((ring) => ringAreaOf(ring) < 0);
  const share = areaOf(part) / Math.max(1, cores.length);
  return cores.reduce((sum, core) => {
    const girth = girthMm(core);
    const radiusMm = girth / (2 * Math.PI);
    const outerMm = Math.sqrt(radiusMm ** 2 + share / Math.PI);
    return sum + girth * ringPressureMpa(heldMpa, radiusMm, outerMm);
  }, 0);
}

function girthMm(ring: Ring): number {
  let sum = 0;
  let a = ring.at(-1);
  for (const b of ring) {
    if (a) sum += Math.hypot(b.x - a.x, b.y - a.y);
    a = b;
  }
  return sum;
}
