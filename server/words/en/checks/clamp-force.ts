import type { Finding } from '../../../engineering/finding.js';
import { numberText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { figure, kilonewtons } from './figures.js';

const BAND_NOTES: { readonly [band: string]: string } = {
  'upper-half': ' (thin or long: the upper half of the band)',
  beyond: ' (longer than 200 walls: above the usual band, in step with the flow length)',
};

function bandText(finding: Finding): string {
  const band = `${numberText(figure(finding, 'pressureMinMpa'), 0)} to ${numberText(figure(finding, 'pressureMaxMpa'), 0)} MPa`;
  const half = BAND_NOTES[String(finding.figures.pressureBand)] ?? '';
  return `${finding.figures.polymer} at a mean ${band}${half} on ${squareCentimetres(finding)}, times ${figure(finding, 'safetyFactor')} for safety`;
}

function squareCentimetres(finding: Finding): string {
  return `${numberText(figure(finding, 'projectedAreaMm2') / 100)} cm²`;
}

function forcesText(finding: Finding): string {
  return `${kilonewtons(finding, 'requiredMinKn')} to ${kilonewtons(finding, 'requiredMaxKn')}`;
}

function stepwise(finding: Finding): string {
  return `Set the press to its largest, ${kilonewtons(finding, 'settableMaxKn')}, start the trial with short shots, step the shot up and stop at the first flash. Flash is hot melt: guard shut, and nobody beside the parting line.`;
}

export const clampForceWords: CheckWords = {
  name: 'Clamp force',
  group: 'Force',
  line: (finding) =>
    `${quantityText(finding.figure ?? 0, 'kN')} needed, ${kilonewtons(finding, 'settableMaxKn')} settable`,
  past: () => 'too much',
  summary: {
    within: (finding) =>
      `Holding the plate shut takes ${forcesText(finding)}; the press gives up to ${kilonewtons(finding, 'settableMaxKn')}. ${bandText(finding)}.`,
    'top-of-band-over': (finding) =>
      `Holding the plate shut takes ${forcesText(finding)}. The press gives ${kilonewtons(finding, 'settableMaxKn')}: enough for the middle of that band, not for its top. ${bandText(finding)}.`,
    over: (finding) =>
      `Holding the plate shut takes ${kilonewtons(finding, 'requiredMidKn')} in the middle of the pressure band (${forcesText(finding)} over all of it), more than the ${kilonewtons(finding, 'settableMaxKn')} the press can give: it would open and flash. ${bandText(finding)}.`,
  },
  advice: {
    within: () => 'The pressure is a band for the polymer family; a trial shows where in it this plate lies.',
    'top-of-band-over': stepwise,
  },
  cures: {
    'fewer-cavities': (cure) => ({
      what: `Keep ${cure.amount} of the ${cure.figures.cavities} cavities`,
      also: `${numberText(Number(cure.figures.areaMm2) / 100)} cm² are left, which the press holds at the top of the band.`,
    }),
    'less-area': (cure) => ({
      what: `Take ${numberText(cure.amount)} cm² off the projected area`,
      also: `The press holds ${numberText(Number(cure.figures.areaMaxMm2) / 100)} cm² at the top of the band.`,
    }),
  },
};
