import { isDeepStrictEqual } from 'node:util';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';

/** Every fact of the press that may change, by the name of its field. */
export function pressFields({ clamp, injection, chiller, ...facts }: PressFacts) {
  return {
    clampKind: clamp.kind,
    clampMinKn: clamp.minKn,
    clampMaxKn: clamp.maxKn,
    tieBarsWidthMm: clamp.tieBarsWidthMm,
    tieBarsHeightMm: clamp.tieBarsHeightMm,
    platensGuided: clamp.platensGuided,
    eccentricMomentNmm: clamp.eccentricMomentNmm,
    platenThicknessMm: facts.platenThicknessMm,
    openingStrokeMm: facts.openingStrokeMm,
    dryCycleS: facts.dryCycleS,
    screwDiameterMm: injection.screwDiameterMm,
    shotCm3: injection.shotCm3,
    maxPressureMpa: injection.maxPressureMpa,
    maxFlowCm3PerS: injection.maxFlowCm3PerS,
    barrelShots: injection.barrelShots,
    nozzleOrificeMm: injection.nozzleOrificeMm,
    intensification: facts.intensification,
    chillerFlowLPerMin: chiller?.flowLPerMin ?? null,
    chillerWaterC: chiller?.waterC ?? null,
  };
}

/** Every fact of a bolster that may change, by the name of its field. */
export function bolsterFields({ face, sprue, halfThicknessMm, ...facts }: BolsterFacts) {
  return {
    faceWidthMm: face.widthMm,
    faceHeightMm: face.heightMm,
    faceCentreXMm: face.centre.x,
    faceCentreYMm: face.centre.y,
    faceMaterial: facts.faceMaterial,
    allowableFacePressureMpa: facts.allowableFacePressureMpa,
    halfMovingMm: halfThicknessMm?.moving ?? null,
    halfFixedMm: halfThicknessMm?.fixed ?? null,
    halfMaterial: facts.halfMaterial,
    sprueLengthMm: sprue.lengthMm,
    sprueNozzleEndMm: sprue.nozzleEndDiameterMm,
    spruePartingFaceMm: sprue.partingFaceDiameterMm,
    minimumDaylightMm: facts.minimumDaylightMm,
    largestStackMm: facts.largestStackMm,
    holes: facts.holes,
    openings: facts.faceOpenings,
  };
}

export type PressField = keyof ReturnType<typeof pressFields>;
export type BolsterField = keyof ReturnType<typeof bolsterFields>;

/** Names of the fields in which two versions of the press differ. */
export function pressChanges(before: PressFacts, after: PressFacts): readonly PressField[] {
  return changed(pressFields(before), pressFields(after));
}

/** Names of the fields in which two versions of a bolster differ. */
export function bolsterChanges(before: BolsterFacts, after: BolsterFacts): readonly BolsterField[] {
  return changed(bolsterFields(before), bolsterFields(after));
}

function changed<Fields extends object>(before: Fields, after: Fields): readonly (keyof Fields)[] {
  return (Object.keys(before) as (keyof Fields)[]).filter(
    (name) => !isDeepStrictEqual(before[name], after[name]),
  );
}
