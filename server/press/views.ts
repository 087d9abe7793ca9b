import type { z } from 'zod';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';
import type { bolsterFacts, bolsterView, pressFacts, pressView } from './schemas.js';
import type { Bolster, Press } from './store.js';
import type { VersionTold } from './version-store.js';

type BolsterOnWire = z.output<typeof bolsterFacts>;
type PressOnWire = z.output<typeof pressFacts>;

/** A bolster as the API shows it. */
export function viewOfBolster({
  id,
  name,
  version,
  mounted,
  pressId,
  facts,
}: Bolster): z.output<typeof bolsterView> {
  return { id, name, version, mounted, pressId, ...bolsterOnWire(facts) };
}

/** The press as the API shows it. */
export function viewOfPress(
  { id, name, version, facts }: Press,
  mounted: Bolster | undefined,
): z.output<typeof pressView> {
  return { id, name, version, mountedBolsterId: mounted?.id ?? null, ...pressOnWire(facts) };
}

/** A version with who made it and why, as the API shows it. */
export function viewOfVersion<Facts, OnWire>(
  { facts, ...told }: VersionTold<Facts>,
  onWire: (facts: Facts) => OnWire,
) {
  return { ...told, facts: onWire(facts) };
}

export function bolsterOnWire(facts: BolsterFacts): BolsterOnWire {
  const { face, sprue, halfThicknessMm } = facts;
  return {
    face: {
      widthMm: face.widthMm,
      heightMm: face.heightMm,
      centreXMm: face.centre.x,
      centreYMm: face.centre.y,
      material: facts.faceMaterial as BolsterOnWire['face']['material'],
      allowablePressureMpa: facts.allowableFacePressureMpa,
      openings: facts.faceOpenings.map((ring) => ring.map(({ x, y }) => ({ xMm: x, yMm: y }))),
    },
    holes: facts.holes.map(({ at, thread, depthMm, positionMm }) => ({
      xMm: at.x,
      yMm: at.y,
      thread,
      depthMm,
      positionMm,
    })),
    sprue: { ...sprue },
    daylight: { minimumMm: facts.minimumDaylightMm, largestStackMm: facts.largestStackMm },
    halves:
      halfThicknessMm === null ? null : { movingMm: halfThicknessMm.moving, fixedMm: halfThicknessMm.fixed },
    halfMaterial: facts.halfMaterial as BolsterOnWire['halfMaterial'],
  };
}

/** A bolster in the engine's words. */
export function bolsterOffWire({
  face,
  holes,
  sprue,
  daylight,
  halves,
  halfMaterial,
}: BolsterOnWire): BolsterFacts {
  return {
    face: {
      widthMm: face.widthMm,
      heightMm: face.heightMm,
      centre: { x: face.centreXMm, y: face.centreYMm },
    },
    faceMaterial: face.material,
    allowableFacePressureMpa: face.allowablePressureMpa,
    holes: holes.map(({ xMm, yMm, ...hole }) => ({ at: { x: xMm, y: yMm }, ...hole })),
    faceOpenings: face.openings.map((ring) => ring.map(({ xMm, yMm }) => ({ x: xMm, y: yMm }))),
    sprue: { ...sprue },
    minimumDaylightMm: daylight.minimumMm,
    largestStackMm: daylight.largestStackMm,
    halfThicknessMm: halves === null ? null : { moving: halves.movingMm, fixed: halves.fixedMm },
    halfMaterial,
  };
}

/** The press is on the wire as the engine has it. */
export function pressOnWire(facts: PressFacts): PressOnWire {
  return {
    ...facts,
    clamp: { ...facts.clamp },
    injection: { ...facts.injection },
    chiller: facts.chiller && { ...facts.chiller },
  };
}
