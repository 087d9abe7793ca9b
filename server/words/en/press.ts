import type { BolsterField, PressField } from '../../press/version-changes.js';

/** A fact of press or bolster as a line of its sheet and a cell of its form. */
export interface FieldWords {
  readonly label: string;
  readonly unit?: string;
  readonly hint?: string;
}

/** What each fact of the press is called, in the order of its sheet. */
export const PRESS_FIELD_WORDS: { readonly [name in PressField]: FieldWords } = {
  clampKind: { label: 'Clamp' },
  clampMinKn: { label: 'Least force that can be set', unit: 'kN' },
  clampMaxKn: { label: 'Highest clamp force', unit: 'kN' },
  tieBarsWidthMm: { label: 'Between tie bars, across', unit: 'mm' },
  tieBarsHeightMm: { label: 'Between tie bars, upright', unit: 'mm' },
  platensGuided: { label: 'Platens guided on the bars' },
  eccentricMomentNmm: {
    label: 'Limit for an off-centre opening force',
    unit: 'N mm',
    hint: 'Empty: not known',
  },
  platenThicknessMm: { label: 'Thickness of each platen', unit: 'mm', hint: 'Empty: not known' },
  openingStrokeMm: { label: 'Opening stroke', unit: 'mm', hint: 'With the thinnest stack' },
  dryCycleS: { label: 'Dry cycle', unit: 's', hint: 'Close, open, take out; empty: not known' },
  screwDiameterMm: { label: 'Screw diameter', unit: 'mm' },
  shotCm3: { label: 'Rated shot', unit: 'cm³' },
  maxPressureMpa: { label: 'Highest pressure on the melt', unit: 'MPa' },
  maxFlowCm3PerS: { label: 'Highest injection rate', unit: 'cm³/s' },
  barrelShots: { label: 'Barrel holds', unit: 'shots', hint: 'Full shots of melt' },
  nozzleOrificeMm: { label: 'Nozzle orifice', unit: 'mm' },
  intensification: { label: 'Intensification', hint: 'Melt over hydraulic pressure; empty: not known' },
  chillerFlowLPerMin: { label: 'Chiller, flow', unit: 'l/min', hint: 'Empty: no chiller' },
  chillerWaterC: { label: 'Chiller, water', unit: '°C', hint: 'Empty: no chiller' },
};

/** What each fact of a bolster is called, in the order of its sheet. */
export const BOLSTER_FIELD_WORDS: { readonly [name in BolsterField]: FieldWords } = {
  faceWidthMm: { label: 'Face, across', unit: 'mm' },
  faceHeightMm: { label: 'Face, upright', unit: 'mm' },
  faceCentreXMm: { label: 'Middle of the face, x', unit: 'mm', hint: 'From the sprue axis' },
  faceCentreYMm: { label: 'Middle of the face, y', unit: 'mm', hint: 'From the sprue axis' },
  faceMaterial: { label: 'Face of' },
  allowableFacePressureMpa: { label: 'Allowable face pressure', unit: 'MPa' },
  halfMovingMm: { label: 'Moving half, thickness', unit: 'mm', hint: 'Empty: not known' },
  halfFixedMm: { label: 'Fixed half, thickness', unit: 'mm', hint: 'Empty: not known' },
  halfMaterial: { label: 'Both halves of' },
  sprueLengthMm: { label: 'Sprue length', unit: 'mm' },
  sprueNozzleEndMm: { label: 'Sprue at the nozzle', unit: 'mm', hint: 'Diameter' },
  spruePartingFaceMm: { label: 'Sprue at the parting face', unit: 'mm', hint: 'Diameter' },
  minimumDaylightMm: {
    label: 'Minimum daylight',
    unit: 'mm',
    hint: 'Closer than this the faces cannot come',
  },
  largestStackMm: { label: 'Largest stack', unit: 'mm' },
  holes: { label: 'Tapped holes' },
  openings: { label: 'Openings in the face' },
};

/** What a fact of press or bolster is called inside a sentence; `undefined` for none of them. */
export function labelOfField(name: string): string | undefined {
  const words: { readonly [name: string]: FieldWords } = { ...PRESS_FIELD_WORDS, ...BOLSTER_FIELD_WORDS };
  const { label } = words[name] ?? {};
  return label === undefined ? undefined : `${label.slice(0, 1).toLowerCase()}${label.slice(1)}`;
}
