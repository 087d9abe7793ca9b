import type { Cavity, MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Point } from '../geometry/point.js';
import type { Polymer } from '../polymers/polymers.js';

/**
 * Thin walls and long flow take the upper half of a polymer's pressure band: walls under 1.5 mm, or a flow length of
 * more than 150 walls. Common practice, no source; the direction is published (Jake Tuczapski, Clamp tonnage, PDI
 * tech tip: the usual 2 to 5 US ton/in2 hold for walls of about 2.5 mm and ordinary flow lengths).
 */
const THIN_WALL_MM = 1.5;
const LONG_FLOW_RATIO = 150;

/** How hard the cavities are to fill, read off the drawing. */
export interface FlowMeasure {
  /** Straight from the feed to the farthest point of the worst cavity, over its mean depth. */
  readonly flowRatio: number;
  /** The thinnest cavity's mean depth: its volume over its area, mm. */
  readonly wallMm: number;
}

/** What the melt pushes with, at both ends of the polymer's pressure band and in its middle. */
export interface OpeningForce {
  readonly pressureMinMpa: number;
  readonly pressureMaxMpa: number;
  readonly pressureBand: 'whole' | 'upper-half';
  readonly flow: FlowMeasure;
  readonly areaMm2: number;
  readonly safetyFactor: number;
  /** Opening force times the safety factor, kN. */
  readonly requiredMinKn: number;
  readonly requiredMidKn: number;
  readonly requiredMaxKn: number;
}

/** Force that a mean pressure on an area gives, kN: F = p A. */
export function openingForceKn(areaMm2: number, pressureMpa: number): number {
  return (areaMm2 * pressureMpa) / 1000;
}

/** The largest area a clamp force holds against a mean pressure, mm2. */
export function areaHeldMm2(forceKn: number, pressureMpa: number, safetyFactor: number): number {
  return (forceKn * 1000) / (pressureMpa * safetyFactor);
}

/** The opening force of a plate with a polymer; the pressure is the band of the polymer family. */
export function openingForceOf(
  drawing: Pick<MeasuredDrawing, 'projected' | 'cavities' | 'feed'>,
  polymer: Polymer,
  safetyFactor: number,
): OpeningForce {
  const { min, max } = polymer.cavityPressureMpa;
  const flow = flowMeasureOf(drawing.cavities, drawing.feed.at);
  const isHard = flow.wallMm < THIN_WALL_MM || flow.flowRatio > LONG_FLOW_RATIO;
  const pressureMinMpa = isHard ? (min + max) / 2 : min;
  const areaMm2 = drawing.projected.areaMm2;
  const required = (pressureMpa: number) => openingForceKn(areaMm2, pressureMpa) * safetyFactor;
  return {
    pressureMinMpa,
    pressureMaxMpa: max,
    pressureBand: isHard ? 'upper-half' : 'whole',
    flow,
    areaMm2,
    safetyFactor,
    requiredMinKn: required(pressureMinMpa),
    requiredMidKn: required((pressureMinMpa + max) / 2),
    requiredMaxKn: required(max),
  };
}

/** The wall and the flow ratio of the cavities that are hardest to fill. */
function flowMeasureOf(cavities: readonly Cavity[], feed: Point): FlowMeasure {
  const walls = cavities.map((cavity) => cavity.volumeMm3 / cavity.areaMm2);
  const ratios = cavities.map((cavity, i) => farthestFrom(feed, cavity) / (walls[i] as number));
  return { flowRatio: Math.max(0, ...ratios), wallMm: Math.min(...walls) };
}

function farthestFrom({ x, y }: Point, { region }: Cavity): number {
  let farthest = 0;
  for (const ring of region)
    for (const p of ring) farthest = Math.max(farthest, Math.hypot(p.x - x, p.y - y));
  return farthest;
}
