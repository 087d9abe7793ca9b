import type { BolsterFacts } from '../../engineering/press-facts.js';
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

const CLAMP_KINDS = { hydraulic: 'hydraulic', toggle: 'toggle' } as const;

const NOT_KNOWN = 'not known';

/** A fact in words, with its unit: `500 kN`, `20 × M6`, `not known`. */
export function fieldText(name: PressField | BolsterField, value: unknown): string {
  if (name === 'holes') return holesText(value as BolsterFacts['holes']);
  if (name === 'openings') return openingsText((value as BolsterFacts['faceOpenings']).length);
  if (name === 'clampKind') return CLAMP_KINDS[value as keyof typeof CLAMP_KINDS];
  if (typeof value === 'boolean') return value ? 'yes' : 'no, or not known';
  if (value === null) return name.startsWith('chiller') ? 'no chiller' : NOT_KNOWN;
  const words: { readonly [name: string]: FieldWords } = { ...PRESS_FIELD_WORDS, ...BOLSTER_FIELD_WORDS };
  const { unit } = words[name] ?? {};
  const text = typeof value === 'number' ? plainNumber(value) : String(value);
  return unit === undefined ? text : `${text} ${unit}`;
}

/** `20 × M6`, `12 × M6, 4 × M8`. */
function holesText(holes: BolsterFacts['holes']): string {
  const counts = new Map<string, number>();
  for (const { thread } of holes) counts.set(thread, (counts.get(thread) ?? 0) + 1);
  return [...counts].map(([thread, count]) => `${count} × ${thread}`).join(', ') || 'none';
}

function openingsText(count: number): string {
  return count === 0 ? 'none' : String(count);
}

/** As it was given, with a true minus. */
export function plainNumber(value: number): string {
  return value < 0 ? `−${Math.abs(value)}` : String(value);
}

/** How two tables of holes differ, beside their counts: `1 gone, 2 new or changed`. */
export function holesDifference(before: BolsterFacts['holes'], after: BolsterFacts['holes']): string {
  const keys = (holes: BolsterFacts['holes']) => new Set(holes.map((hole) => JSON.stringify(hole)));
  const [had, has] = [keys(before), keys(after)];
  const gone = [...had].filter((key) => !has.has(key)).length;
  const come = [...has].filter((key) => !had.has(key)).length;
  return `${gone} gone, ${come} new`;
}

/** Words of the picture of a bolster's face. */
export const FACE_PICTURE_WORDS = {
  face: ({ face }: BolsterFacts) =>
    `bolster face ${plainNumber(face.widthMm)} × ${plainNumber(face.heightMm)}`,
  length: (mm: number) => plainNumber(Math.round(mm * 100) / 100),
  label: ({ holes, face, faceOpenings }: BolsterFacts) =>
    `The bolster’s face, ${plainNumber(face.widthMm)} by ${plainNumber(face.heightMm)} mm, seen on the moving half, with ${holesText(holes)} tapped holes and ${faceOpenings.length === 0 ? 'no other opening' : `${faceOpenings.length} openings`}`,
} as const;

/** What the pages of this room tell once it has been done. */
export const PRESS_JUST_DONE = [
  { what: 'revised', word: 'kept', text: 'The new version is kept; who had to be told has been told.' },
  {
    what: 'mounted',
    word: 'mounted',
    text: 'Plates are checked against this bolster from now on; who had to be told has been told.',
  },
  { what: 'added', word: 'added', text: 'It is kept; nothing is touched before it is mounted.' },
  {
    what: 'out',
    word: 'kept',
    text: 'Nothing can be booked on it for that time; whose booking stands in it has been told.',
  },
  { what: 'back', word: 'back', text: 'What is left of the time can be booked again.' },
  { what: 'inspected', word: 'kept', text: 'The inspection is on record.' },
  { what: 'stocked', word: 'kept', text: 'It is on the list, and a plate’s revision can name it.' },
  { what: 'edited', word: 'kept', text: 'What was changed is kept.' },
] as const;

/** When the next inspection is due, in words for a sheet. */
export const INSPECTION_WORDS = {
  never: 'no inspection on record',
  due: (moment: string) => `due before ${moment}`,
  overdue: (moment: string) => `overdue since ${moment}`,
} as const;

export const STACK_PART_WORDS = {
  facing: 'facing plate',
  packer: 'packer',
  'in-service': 'in service',
  retired: 'retired',
  notMeasured: 'not measured',
} as const;

/** What the drawing of a face was found to hold. */
export function faceFoundText(
  holes: number,
  diametersMm: readonly number[],
  openings: number,
  face: boolean,
): string {
  const across = diametersMm.map((mm) => plainNumber(Math.round(mm * 100) / 100)).join(', ');
  return [
    `${holes} circles on BOLT${across === '' ? '' : `, ${across} mm across`}`,
    face ? 'the outline on PLATE for the face' : 'no outline on PLATE: the face stays as it was',
    openings === 0 ? 'no openings' : `${openings} openings`,
  ].join('; ');
}

export const ADD_BOLSTER = { href: '/bolsters/new', text: 'Add a bolster' } as const;
