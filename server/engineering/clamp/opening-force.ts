import type { Cavity, MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Point } from '../geometry/point.js';
import type { Polymer } from '../polymers/polymer.js';
import { type CavityPressure, cavityPressureOf, type FlowMeasure } from './cavity-pressure.js';

/** What the melt pushes with, at both ends of the polymer's pressure band and in its middle. */
export interface OpeningForce {
  readonly pressureMinMpa: number;
  readonly pressureMaxMpa: number;
  readonly pressureBand: CavityPressure['band'];
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

/**
 * The opening force of a plate with a polymer; the pressure is the polymer's band for the flow. Without a flow that
 * follows the runners it is measured straight.
 */
export function openingForceOf(
  drawing: Pick<MeasuredDrawing, 'projected' | 'cavities' | 'feed'>,
  polymer: Polymer,
  safetyFactor: number,
  flow: FlowMeasure = straightFlowOf(drawing.cavities, drawing.feed.at),
): OpeningForce {
  const { minMpa, maxMpa, band } = cavityPressureOf(polymer, flow);
  const areaMm2 = drawing.projected.areaMm2;
  const required = (pressureMpa: number) => openingForceKn(areaMm2, pressureMpa) * safetyFactor;
  return {
    pressureMinMpa: minMpa,
    pressureMaxMpa: maxMpa,
    pressureBand: band,
    flow,
    areaMm2,
    safetyFactor,
    requiredMinKn: required(minMpa),
    requiredMidKn: required((minMpa + maxMpa) / 2),
    requiredMaxKn: required(maxMpa),
  };
}

/**
 * Flow as a ruler shows it: straight from the feed to the farthest point of each cavity over its mean depth, the worst
 * of them; the wall is the thinnest cavity's mean depth.
 */
export function straightFlowOf(cavities: readonly Cavity[], feed: Point): FlowMeasure {
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
