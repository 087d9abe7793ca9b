import type { Finding } from '../../../engineering/finding.js';
import { numberText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { cureFigure, mm } from './cure-text.js';
import { figure } from './figures.js';

function limits(finding: Finding): { readonly min: number; readonly max: number | null } {
  const { limit } = finding;
  if (limit === null || typeof limit === 'number') return { min: 0, max: null };
  return { min: limit.min ?? 0, max: limit.max };
}

function screwText(finding: Finding): string {
  const { screwSize } = finding.figures;
  return `${screwSize} × ${figure(finding, 'screwLengthMm')}`;
}

function bridgesText(finding: Finding): string {
  const packerMm = figure(finding, 'packerThicknessMm');
  const packer = packerMm > 0 ? ` and ${mm(packerMm)} of packer` : '';
  const metalMm = figure(finding, 'thicknessMm') - figure(finding, 'sinkDepthMm');
  return `${mm(metalMm)} of plate under the head${packer}`;
}

function howMany(finding: Finding): string {
  const failing = figure(finding, 'failing');
  const screws = figure(finding, 'screws');
  return failing === screws
    ? 'It is the same at every screw.'
    : `${failing} of ${screws} screws, hole ${figure(finding, 'holeNumber')} the worst.`;
}

function ruleText(finding: Finding): string {
  return `${numberText(figure(finding, 'timesDiameter'))} diameters in a ${finding.figures.faceMaterial} face`;
}

function threadAdvice({ figures: { outlastsMm } }: Finding): string | null {
  return typeof outlastsMm === 'number'
    ? `From ${mm(outlastsMm)} on the tapped thread outlasts a screw of class 8.8. Threads in aluminium that are used often want inserts.`
    : null;
}

/** Nobody sells a cap screw of 23 mm. */
function lengthAdvice(finding: Finding): string | null {
  const { standardLengthMm, screwSize } = finding.figures;
  if (typeof standardLengthMm !== 'number') return null;
  const odd = `${screwText(finding)} is no standard length of cap screw.`;
  return standardLengthMm === 0
    ? `${odd} None of the standard lengths would hold here: cut one down, or change the depth of the sinks.`
    : `${odd} Take ${screwSize} × ${standardLengthMm}, which engages ${mm(figure(finding, 'standardEngagedMm'))}.`;
}

export const screwEngagementWords = {
  name: 'Screw engagement',
  group: 'Fit',
  line: (finding) => {
    if (finding.figure === null) return 'no screws';
    const { min, max } = limits(finding);
    if (finding.situation === 'does-not-reach') return `does not reach, at least ${mm(min)}`;
    return finding.situation === 'bottoms' && max !== null
      ? `${mm(finding.figure)}, at most ${mm(max)}`
      : `${mm(finding.figure)}, at least ${mm(min)}`;
  },
  past: ({ situation }) => (situation === 'bottoms' ? 'too deep' : 'too short'),
  summary: {
    'no-screws': () => 'The drawing has no bolt holes, so there are no screws to judge.',
    engages: (finding) =>
      `${screwText(finding)} bridges ${bridgesText(finding)} and engages ${mm(finding.figure ?? 0)} of thread; at least ${ruleText(finding)} is the rule.`,
    'does-not-reach': (finding) =>
      `${screwText(finding)} is too short: it bridges ${bridgesText(finding)} and does not reach the thread. Nothing would hold the plate. ${howMany(finding)}`,
    'too-short': (finding) =>
      `${screwText(finding)} bridges ${bridgesText(finding)} and engages only ${mm(finding.figure ?? 0)} of thread, less than ${ruleText(finding)}: the thread can strip and the plate come loose. ${howMany(finding)}`,
    bottoms: (finding) =>
      `${screwText(finding)} would go ${mm(finding.figure ?? 0)} deep into a hole tapped ${mm(figure(finding, 'tappedDepthMm'))}: it bottoms before its head seats, and the plate stays loose. ${howMany(finding)}`,
  },
  advice: {
    engages: (finding) => [lengthAdvice(finding), threadAdvice(finding)].filter(Boolean).join(' ') || null,
  },
  cures: {
    'screw-length': (cure) => ({
      what: `${cure.figures.screwSize} × ${cure.amount} screws`,
      also: `They engage ${mm(cureFigure(cure, 'engagedMm'))}.`,
    }),
    'deeper-sink': (cure) => ({
      what: `Sink the heads ${mm(cure.amount)} deep`,
      also: `With ${cure.figures.screwSize} × ${cureFigure(cure, 'screwLengthMm')} screws, which then engage ${mm(cureFigure(cure, 'engagedMm'))}.`,
    }),
    'same-sink': (cure) => ({
      what: `Draw all sinks ${mm(cure.amount)} deep`,
      also: 'One length of screw can then suit all holes.',
    }),
    'tap-deeper': (cure) => ({
      what: `Ask for the hole to be tapped ${mm(cure.amount)} deep`,
      also: 'That changes the bolster: a matter for a steward.',
    }),
  },
} satisfies CheckWords;
