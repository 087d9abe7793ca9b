import { z } from 'zod';
import { SCREW_SIZES } from '../engineering/fit/fasteners/iso-261-threads.js';
import {
  CUTTER_FORMS,
  type CutterGiven,
  type PlateFacts,
  type ScrewGroup,
} from '../engineering/press-facts.js';
import { type PlateFactsBody, plateFactsBody } from './plate-facts-body.js';
import { numberIn } from './uploaded-drawing.js';

/** Fields of the fold "More about the plate", in the order of its cells; the last is what it has no cell for. */
export const MORE_FIELDS = [
  'draftDeg',
  'cavityCutter',
  'cavityCutterMm',
  'otherCutter',
  'otherCutterMm',
  'groupDiameterMm',
  'groupHoles',
  'groupScrew',
  'groupScrewLengthMm',
  'groupSinkDepthMm',
  'groupSinkDiameterMm',
  'moreFacts',
] as const;

export type MoreField = (typeof MORE_FIELDS)[number];

export type MoreValues = { readonly [field in MoreField]: string };

export const MORE_LABELS = {
  draftDeg: 'Draft, each side',
  cavityCutter: 'Cavity’s cutter',
  cavityCutterMm: 'Across its tip',
  otherCutter: 'Cutter of other cuts',
  otherCutterMm: 'Across their tip',
  groupDiameterMm: 'Other screws: holes of',
  groupHoles: 'Or holes numbered',
  groupScrew: 'Their screw',
  groupScrewLengthMm: 'Their length',
  groupSinkDepthMm: 'Their heads sunk',
  groupSinkDiameterMm: 'Their sinks across',
  moreFacts: 'More about the plate',
} as const satisfies { readonly [field in MoreField]: string };

export const MORE_BEGINS: MoreValues = {
  draftDeg: '',
  cavityCutter: '',
  cavityCutterMm: '',
  otherCutter: '',
  otherCutterMm: '',
  groupDiameterMm: '',
  groupHoles: '',
  groupScrew: '',
  groupScrewLengthMm: '',
  groupSinkDepthMm: '',
  groupSinkDiameterMm: '',
  moreFacts: '',
};

/** What a facts body names, and where the form asks for it. */
export const MORE_FORM_FIELD: { readonly [field: string]: MoreField } = {
  'cutters.0.diameterMm': 'cavityCutterMm',
  'cutters.1.diameterMm': 'otherCutterMm',
  'screwGroups.0.holeDiameterMm': 'groupDiameterMm',
  'screwGroups.0.holes': 'groupHoles',
  screwGroups: 'groupHoles',
  'screwGroups.0.screw.size': 'groupScrew',
  'screwGroups.0.screw.lengthMm': 'groupScrewLengthMm',
  'screwGroups.0.screw.headSinkDepthMm': 'groupSinkDepthMm',
  'screwGroups.0.screw.headSinkDiameterMm': 'groupSinkDiameterMm',
};

export type MoreBody = Pick<PlateFactsBody, 'draftDeg' | 'cutters' | 'screwGroups'>;

const { cutters, screwGroups } = plateFactsBody.shape;
const kept = z.strictObject({ cutters, screwGroups });

/** The fold's fields as a facts body has them, or the fields in which no number could be read. */
export function moreOfForm(values: MoreValues): MoreBody | { readonly unread: readonly MoreField[] } {
  const unread: MoreField[] = [];
  const number = (field: MoreField): number | undefined => {
    const text = values[field].trim();
    const value = text === '' ? undefined : numberIn(text);
    if (typeof value !== 'string') return value;
    unread.push(field);
    return undefined;
  };
  const draftDeg = number('draftDeg');
  const cavity = cutterOf('cavity', values.cavityCutter, number('cavityCutterMm'));
  const other = cutterOf(undefined, values.otherCutter, number('otherCutterMm'));
  const holes = numbersIn(values.groupHoles);
  if (holes === null) unread.push('groupHoles');
  const holeDiameterMm = number('groupDiameterMm');
  const lengthMm = number('groupScrewLengthMm');
  const headSinkDepthMm = number('groupSinkDepthMm');
  const headSinkDiameterMm = number('groupSinkDiameterMm');
  const isGroup = values.groupScrew !== '' || holeDiameterMm !== undefined || (holes ?? []).length > 0;
  if (isGroup && values.groupScrew === '') unread.push('groupScrew');
  if (isGroup && lengthMm === undefined && !unread.includes('groupScrewLengthMm'))
    unread.push('groupScrewLengthMm');
  if (unread.length > 0) return { unread };
  const group = {
    ...(holeDiameterMm !== undefined && { holeDiameterMm }),
    ...(holes !== null && holes.length > 0 && { holes: [...holes] }),
    screw: {
      size: values.groupScrew,
      lengthMm: lengthMm ?? 0,
      ...(headSinkDepthMm !== undefined && { headSinkDepthMm }),
      ...(headSinkDiameterMm !== undefined && { headSinkDiameterMm }),
    },
  };
  const rest = restOf(values.moreFacts);
  return {
    ...(draftDeg !== undefined && { draftDeg }),
    cutters: [...cavity, ...other, ...(rest.cutters ?? [])],
    screwGroups: [...(isGroup ? [group] : []), ...(rest.screwGroups ?? [])],
  };
}

function cutterOf(feature: 'cavity' | undefined, form: string, diameterMm: number | undefined) {
  const known = CUTTER_FORMS.find((one) => one === form);
  if (known === undefined && diameterMm === undefined) return [];
  return [
    {
      ...(feature && { feature }),
      ...(known && { form: known }),
      ...(diameterMm !== undefined && { diameterMm }),
    },
  ];
}

/** "3, 4" or "3 and 4"; null when it is something else. */
function numbersIn(text: string): readonly number[] | null {
  const parts = text.split(/[\s,;]+|\band\b/).filter((part) => part !== '');
  const numbers = parts.map(Number);
  return numbers.every((one) => Number.isInteger(one) && one >= 1) ? numbers : null;
}

function restOf(json: string): z.output<typeof kept> {
  try {
    return kept.safeParse(JSON.parse(json)).data ?? {};
  } catch {
    return {};
  }
}

/** The facts of a kept revision as the fold shows them; what it has no cell for goes along as it is. */
export function moreValuesOfFacts(facts: PlateFacts): MoreValues {
  const shown = (feature: CutterGiven['feature']) =>
    facts.cutters.find((one) => one.feature === feature && one.taperDeg === null);
  const [cavity, other] = [shown('cavity'), shown(null)];
  const [group, ...groups] = facts.screwGroups;
  const cutters = facts.cutters.filter((one) => one !== cavity && one !== other);
  const rest = { cutters: cutters.map(said), screwGroups: groups.map(groupSaid) };
  return {
    draftDeg: text(facts.draftDeg),
    cavityCutter: cavity?.form ?? '',
    cavityCutterMm: text(cavity?.diameterMm ?? null),
    otherCutter: other?.form ?? '',
    otherCutterMm: text(other?.diameterMm ?? null),
    groupDiameterMm: text(group?.holeDiameterMm ?? null),
    groupHoles: group?.holes.join(', ') ?? '',
    groupScrew: group?.screw.size ?? '',
    groupScrewLengthMm: text(group?.screw.lengthMm ?? null),
    groupSinkDepthMm: text(group?.screw.headSinkDepthMm ?? null),
    groupSinkDiameterMm: text(group?.screw.headSinkDiameterMm ?? null),
    moreFacts: cutters.length + groups.length === 0 ? '' : JSON.stringify(rest),
  };
}

/** Only what was said: a body leaves out what is null in the facts. */
function said<T extends object>(facts: T): Partial<T> {
  return Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== null)) as Partial<T>;
}

function groupSaid({ holeDiameterMm, holes, screw }: ScrewGroup) {
  return {
    ...(holeDiameterMm !== null && { holeDiameterMm }),
    ...(holes.length > 0 && { holes }),
    screw: said(screw),
  };
}

function text(value: number | null): string {
  return value === null ? '' : String(value);
}

/** The choices of its selects; empty is what usually is. */
export const MORE_OPTIONS = {
  cavityCutter: [['', 'usual'], ...CUTTER_FORMS.map((form) => [form, form] as const)],
  otherCutter: [['', 'usual'], ...CUTTER_FORMS.map((form) => [form, form] as const)],
  groupScrew: [['', 'none'], ...SCREW_SIZES.map((size) => [size, size] as const)],
} as const satisfies { readonly [field in MoreField]?: readonly (readonly [string, string])[] };
