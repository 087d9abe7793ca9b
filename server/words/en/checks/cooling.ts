import type { Finding } from '../../../engineering/finding.js';
import { numberText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { mm } from './cure-text.js';
import { figure } from './figures.js';

function seconds(finding: Finding, name: string): string {
  const value = figure(finding, name);
  return `${numberText(value, value < 10 ? 1 : 0)} s`;
}

function sectionText(finding: Finding): string {
  const depth = mm(figure(finding, 'depthMm'));
  return finding.figures.shape === 'bar'
    ? `${depth} deep and ${mm(figure(finding, 'widthMm'))} wide, cooled from four sides`
    : `${depth} thick`;
}

function temperatures(finding: Finding): string {
  const { state } = finding.figures;
  return `${typeof state === 'string' ? `${state}: ` : ''}melt ${figure(finding, 'meltC')}, mould ${figure(finding, 'mouldC')}, ejection ${figure(finding, 'ejectionC')} °C`;
}

function cycleText(finding: Finding): string {
  return `With ${seconds(finding, 'fillS')} to fill and ${seconds(finding, 'dryS')} to close, open and take out, a shot takes about ${seconds(finding, 'cycleS')}.`;
}

export const coolingWords = {
  name: 'Cooling',
  group: 'Heat',
  line: (finding) => `${seconds(finding, 'coolS')}, a shot in ${seconds(finding, 'cycleS')}`,
  past: () => 'too long',
  summary: {
    'part-governs': (finding) =>
      `The slowest section, ${sectionText(finding)}, is firm to its middle after ${seconds(finding, 'partS')} (${temperatures(finding)}); ${seconds(finding, 'partMinS')} to ${seconds(finding, 'partMaxS')} over the sets of temperatures ${finding.figures.polymer} is run at. ${cycleText(finding)}`,
    'runner-governs': (finding) =>
      `The part is firm to its middle after ${seconds(finding, 'partS')} (${temperatures(finding)}), but the ${finding.figures.governedBy} takes ${seconds(finding, 'coolS')} until it can be gripped. ${cycleText(finding)}`,
  },
  advice: {
    'runner-governs': (finding) =>
      finding.figures.governedBy === 'runner'
        ? 'A thinner runner saves time and resin; see what it does to the filling pressure.'
        : 'Only a thinner sprue would save that time.',
  },
  cures: {},
} satisfies CheckWords;
