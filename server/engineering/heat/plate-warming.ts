import { areaOf } from '../geometry/area.js';
import { pathLengthMm } from '../geometry/polyline.js';
import type { MeltCase } from '../melt/melt-case.js';
import { type ThermalMetal, thermalMetal } from './thermal-materials.js';
import { type HeatNetwork, type HeatNode, steadyC, warmingC } from './thermal-network.js';

/** How a plate and its bolster warm up over a run. */
export interface PlateWarming {
  /** Minutes of the curve's points, from the first shot on. */
  readonly minutes: readonly number[];
  readonly plateC: readonly number[];
  /** When nothing changes any more. */
  readonly steadyPlateC: number;
  readonly steadyMovingHalfC: number;
  /** Heat every shot leaves, J. */
  readonly heatPerShotJ: number;
  readonly meanW: number;
  /** What goes into the plate and out of it when nothing changes any more. */
  readonly balance: PlateBalance;
}

export interface PlateBalance {
  readonly capacityJPerK: number;
  /** Of the shots' heat, what goes into the plate, W. */
  readonly inputW: number;
  readonly ways: readonly {
    readonly to: 'moving-half' | 'fixed-half' | 'room' | 'water';
    readonly conductanceWPerK: number;
    readonly toC: number;
  }[];
}

export interface WarmingCase {
  readonly roomC: number;
  /** Seconds waited after each shot beside the cycle. */
  readonly pauseS: number;
  /** Water through the plate's own channels; null without. */
  readonly waterC: number | null;
}

/** Bolted, dry, milled metal on milled metal, W/(m2 K). Handbook value, from memory (1000 to 3000). */
const CONTACT_W_PER_M2K = 2000;
/** Still air with radiation, W/(m2 K). Handbook value, from memory (8 to 12). */
const AIR_W_PER_M2K = 10;
/** What comes through the nozzle from the barrel, W/K between melt and fixed half. Common practice, no source. */
const NOZZLE_W_PER_K = 0.15;
/** A platen is about this much wider than what is free between its bars. Common practice, no source. */
const PLATEN_OVER_BARS = 1.4;
/** Turbulent water in a bore of 6 to 10 mm at some l/min, W/(m2 K). Handbook value, from memory (3000 to 10 000). */
const WATER_W_PER_M2K = 4000;
/** Without a word about the halves they are taken as this thick, mm, and without one about the platens. Common practice, no source. */
const USUAL_HALF_MM = 50;
const USUAL_PLATEN_MM = 80;

const HOURS = 6;
const STEP_S = 30;

/** Nodes: the plate with its facing plate, the moving and the fixed half, the moving and the fixed platen. */
const [PLATE, MOVING, FIXED, MOVING_PLATEN, FIXED_PLATEN] = [0, 1, 2, 3, 4] as const;

/**
 * Warms a plate over six hours of shots: lumps of metal, contact between them, air round them, the shots' heat as
 * a steady flow. Peaks at the cavity's skin within a shot are left out.
 */
export function plateWarming(melt: MeltCase, { roomC, pauseS, waterC }: WarmingCase): PlateWarming {
  const network = networkOf(melt, { roomC, pauseS, waterC });
  const rows = warmingC(network, roomC, STEP_S, (HOURS * 3600) / STEP_S);
  const steady = steadyC(network);
  const heatPerShotJ = shotHeatJ(melt);
  return {
    minutes: rows.map((_, i) => (i * STEP_S) / 60),
    plateC: rows.map((row) => row[PLATE] as number),
    steadyPlateC: steady[PLATE] as number,
    steadyMovingHalfC: steady[MOVING] as number,
    heatPerShotJ,
    meanW: heatPerShotJ / (melt.cycle.totalS + pauseS),
    balance: balanceOf(network, steady, roomC),
  };
}

function balanceOf({ nodes, links }: HeatNetwork, steady: readonly number[], roomC: number): PlateBalance {
  const { capacityJPerK, inputW } = nodes[PLATE] as HeatNode;
  return {
    capacityJPerK,
    inputW,
    ways: links
      .filter(({ from }) => from === PLATE)
      .map((link) => {
        const { conductanceWPerK } = link;
        if ('to' in link) {
          const to = link.to === MOVING ? 'moving-half' : 'fixed-half';
          return { to, conductanceWPerK, toC: steady[link.to] as number } as const;
        }
        return { to: link.toC === roomC ? 'room' : 'water', conductanceWPerK, toC: link.toC } as const;
      }),
  };
}

/** Minutes until the plate reaches a temperature, between points along a straight line; null when it never does. */
export function minutesTo({ minutes, plateC }: PlateWarming, wantedC: number): number | null {
  const above = plateC.findIndex((value) => value >= wantedC);
  if (above < 0) return null;
  if (above === 0) return 0;
  const [fromC, toC] = [plateC[above - 1] as number, plateC[above] as number];
  const [from, to] = [minutes[above - 1] as number, minutes[above] as number];
  return from + ((to - from) * (wantedC - fromC)) / (toC - fromC);
}

/** The plate's temperature after some minutes; the last of the curve beyond it. */
export function plateAfterC({ minutes, plateC }: PlateWarming, after: number): number {
  const next = minutes.findIndex((value) => value >= after);
  if (next <= 0) return (next === 0 ? plateC[0] : plateC.at(-1)) as number;
  const share =
    (after - (minutes[next - 1] as number)) / ((minutes[next] as number) - (minutes[next - 1] as number));
  return (plateC[next - 1] as number) + share * ((plateC[next] as number) - (plateC[next - 1] as number));
}

/** Mass x enthalpy difference, the larger end of its band. */
function shotHeatJ({ shot, polymer }: MeltCase): number {
  return shot.massG * polymer.enthalpyJPerG.max;
}

function networkOf(melt: MeltCase, { roomC, pauseS, waterC }: WarmingCase): HeatNetwork {
  const { drawing, plate, bolster, press, cycle } = melt;
  const periodS = cycle.totalS + pauseS;
  const shutShare = (cycle.totalS - cycle.dryS) / periodS;
  const plateMetal = thermalMetal(plate.alloy);
  const half = thermalMetal(bolster.halfMaterial ?? 'steel');
  const platen = thermalMetal('steel');
  const halves = bolster.halfThicknessMm ?? { moving: USUAL_HALF_MM, fixed: USUAL_HALF_MM };
  const platenMm = press.platenThicknessMm ?? USUAL_PLATEN_MM;
  const plateMm = plate.thicknessMm + plate.facingThicknessMm;
  // A packer behind the plate, of steel: common practice, no source.
  const packerMm = plate.packerThicknessMm;
  const plateMm2 = drawing.plate.areaMm2;
  const landMm2 = Math.max(0, plateMm2 - drawing.projected.areaMm2);
  const { widthMm, heightMm } = bolster.face;
  const platenSides = [press.clamp.tieBarsWidthMm, press.clamp.tieBarsHeightMm].map(
    (mm) => mm * PLATEN_OVER_BARS,
  );
  const platenMm2 = (platenSides[0] as number) * (platenSides[1] as number);
  const shares = heatShares(melt);
  const watts = shotHeatJ(melt) / periodS;
  const node = (metal: ThermalMetal, areaMm2: number, mm: number, inputW = 0) => ({
    capacityJPerK: areaMm2 * mm * 1e-9 * metal.densityKgPerM3 * metal.specificHeatJPerKgK,
    inputW,
  });
  const faceMm2 = widthMm * heightMm;
  const air = (from: number, areaMm2: number) => ({
    from,
    toC: roomC,
    conductanceWPerK: AIR_W_PER_M2K * areaMm2 * 1e-6,
  });
  const contact = (
    from: number,
    to: number,
    areaMm2: number,
    layers: readonly (readonly [number, ThermalMetal])[],
    share = 1,
  ) => ({
    from,
    to,
    conductanceWPerK: share * through(areaMm2, layers),
  });
  const halfSides = (mm: number) => 2 * (widthMm + heightMm) * mm;
  const openMm2 = plateMm2 * (1 - shutShare) + 2 * (drawing.plate.widthMm + drawing.plate.heightMm) * plateMm;
  const meltC = melt.polymer.temperatures.sets[1].meltC;
  const waterMm2 = drawing.water.reduce(
    (sum, { path, diameterMm }) => sum + Math.PI * diameterMm * pathLengthMm(path),
    0,
  );
  return {
    nodes: [
      node(plateMetal, plateMm2, plateMm, watts * shares.plate),
      node(half, faceMm2, halves.moving),
      node(half, faceMm2, halves.fixed, watts * shares.fixed),
      node(platen, platenMm2, platenMm),
      node(platen, platenMm2, platenMm),
    ],
    links: [
      contact(PLATE, MOVING, plateMm2, [
        [plateMm / 2, plateMetal],
        ...(packerMm > 0 ? [[packerMm, platen] as const] : []),
        [halves.moving / 2, half],
      ]),
      contact(
        PLATE,
        FIXED,
        landMm2,
        [
          [plateMm / 2, plateMetal],
          [halves.fixed / 2, half],
        ],
        shutShare,
      ),
      contact(MOVING, MOVING_PLATEN, faceMm2, [
        [halves.moving / 2, half],
        [platenMm / 2, platen],
      ]),
      contact(FIXED, FIXED_PLATEN, faceMm2, [
        [halves.fixed / 2, half],
        [platenMm / 2, platen],
      ]),
      air(PLATE, openMm2),
      air(MOVING, halfSides(halves.moving)),
      air(FIXED, halfSides(halves.fixed)),
      air(MOVING_PLATEN, 2 * platenMm2),
      air(FIXED_PLATEN, 2 * platenMm2),
      { from: FIXED, toC: meltC, conductanceWPerK: NOZZLE_W_PER_K },
      ...(waterC === null
        ? []
        : [{ from: PLATE, toC: waterC, conductanceWPerK: WATER_W_PER_M2K * waterMm2 * 1e-6 }]),
    ],
  };
}

/** W/K through layers of metal and the contacts between them. */
function through(areaMm2: number, layers: readonly (readonly [number, ThermalMetal])[]): number {
  const perM2 = layers.reduce(
    (sum, [mm, { conductivityWPerMK }]) => sum + mm / 1000 / conductivityWPerMK,
    (layers.length - 1) / CONTACT_W_PER_M2K,
  );
  return (areaMm2 * 1e-6) / perM2;
}

/** Heat goes out by the faces that the melt touches: floor and walls of the cuts, the fixed half's face, the sprue. */
function heatShares({ drawing, shot }: MeltCase): { readonly plate: number; readonly fixed: number } {
  const { region, areaMm2 } = drawing.projected;
  const depthMm = drawing.moulded.volumeMm3 / areaMm2;
  const wallMm2 =
    region.reduce((sum, ring) => sum + pathLengthMm([...ring, ...ring.slice(0, 1)]), 0) * depthMm;
  const ofMoulded = shot.mouldedMm3 / shot.coldMm3;
  const plate = (ofMoulded * (areaOf(region) + wallMm2)) / (2 * areaOf(region) + wallMm2);
  return { plate, fixed: 1 - plate };
}
