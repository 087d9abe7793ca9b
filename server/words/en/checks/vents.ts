import type { Finding } from '../../../engineering/finding.js';
import type { CheckWords } from './check-words.js';
import { mm } from './cure-text.js';
import { figure } from './figures.js';

function cavitiesText({ figures }: Finding): string {
  const numbers = figures.cavityNumbers;
  const list = Array.isArray(numbers) ? numbers : [];
  return list.length === 1
    ? `Cavity ${list[0]}`
    : `Cavities ${list.slice(0, -1).join(', ')} and ${list.at(-1)}`;
}

function bandText(finding: Finding): string {
  return `${mm(figure(finding, 'depthMinMm'))} to ${mm(figure(finding, 'depthMaxMm'))} for ${finding.figures.polymer}`;
}

const HOW =
  'Cut the vent where the cavity fills last: its depth for the first 1.5 to 3 mm, then deeper, open to the plate\u2019s edge.';

export const ventsWords = {
  name: 'Vents',
  group: 'Melt',
  line: (finding) => {
    if (finding.situation === 'none' || finding.situation === 'no-way-out')
      return `${finding.figure ?? 0} of ${finding.limit} cavities vented`;
    if (finding.situation === 'short-land')
      return `relief after ${mm(finding.figure ?? 0)}, at least ${mm(Number(finding.limit))}`;
    return `${mm(finding.figure ?? 0)}${finding.situation === 'far-from-last' ? ' off' : ' deep'}, at most ${mm(Number(finding.limit))}`;
  },
  past: (finding) => {
    if (finding.unit === '') return 'without a vent';
    if (finding.situation === 'short-land') return 'too short';
    return finding.situation === 'far-from-last' ? 'too far' : 'too deep';
  },
  summary: {
    vented: (finding) =>
      `Every cavity has a vent to open air near the place it fills last; the deepest is ${mm(figure(finding, 'depthMm'))}, within ${bandText(finding)}.`,
    none: (finding) =>
      `${cavitiesText(finding)} ${isOne(finding) ? 'has' : 'have'} no vent. Air shut in by the melt burns the part, or keeps it short.`,
    'no-way-out': (finding) =>
      `${cavitiesText(finding)} ${isOne(finding) ? 'has' : 'have'} a vent that ends before open air: metal stands in its way.`,
    'melt-gets-in': (finding) =>
      `A vent is ${mm(figure(finding, 'depthMm'))} deep where it leaves the cavity; ${finding.figures.polymer} gets into gaps deeper than ${mm(figure(finding, 'depthMaxMm'))} and leaves a skin of flash.`,
    'short-land': (finding) =>
      `A vent is cut deeper only ${mm(finding.figure ?? 0)} from the cavity; its shallow land wants ${mm(Number(finding.limit))} to 3 mm, or melt gets through into the relief.`,
    'touches-nothing': () => 'A vent starts at no cavity and no runner, so no air gets into it.',
    'far-from-last': (finding) =>
      `${cavitiesText(finding)} ${isOne(finding) ? 'fills' : 'fill'} last ${mm(figure(finding, 'offMm'))} from the nearest vent.`,
  },
  advice: {
    none: () =>
      `A flat parting face lets a little air out by itself, so the trial may show that none is needed. ${HOW}`,
    'no-way-out': () => HOW,
    'melt-gets-in': (finding) =>
      `Charts differ: start with ${mm(figure(finding, 'depthMinMm'))} and deepen in steps of 0.005 mm.`,
    'touches-nothing': () => HOW,
    'far-from-last': () => HOW,
  },
  cures: {
    'shallower-vent': (cure) => ({
      what: `A vent ${mm(cure.amount)} deep at the cavity`,
      also: 'Deeper relief may begin 1.5 mm away from it.',
    }),
    'relief-farther': (cure) => ({
      what: `Begin the deeper relief ${mm(cure.amount)} farther from the cavity`,
      also: `The land is then ${mm(Number(cure.figures.landMm))} long.`,
    }),
  },
} satisfies CheckWords;

function isOne({ figures }: Finding): boolean {
  return Array.isArray(figures.cavityNumbers) && figures.cavityNumbers.length === 1;
}
