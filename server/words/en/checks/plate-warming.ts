import type { Finding } from '../../../engineering/finding.js';
import { numberText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { figure } from './figures.js';

function celsius(finding: Finding, name: string): string {
  return `${numberText(figure(finding, name), 0)} °C`;
}

function afterText({ figures }: Finding, name: string): string {
  const minutes = figures[name];
  return typeof minutes === 'number' ? `after about ${numberText(minutes, 0)} min` : 'never';
}

function heatText(finding: Finding): string {
  const perShot = numberText(figure(finding, 'heatPerShotJ') / 1000);
  return `Every shot leaves ${perShot} kJ, ${numberText(figure(finding, 'meanW'), 0)} W at a shot in ${numberText(figure(finding, 'cycleS'), 0)} s`;
}

function warmUpText({ figures }: Finding): string {
  if (typeof figures.floorC !== 'number') return '';
  const floor = `${figures.polymer} wants a plate of at least ${numberText(figures.floorC, 0)} °C`;
  const shots = figures.warmUpShots;
  if (typeof shots !== 'number') return ` ${floor}, which the shots alone do not bring: warm it before.`;
  if (shots > MANY_SHOTS)
    return ` ${floor}, which the shots alone bring only after ${shots}: warm it before.`;
  return ` ${floor}, which ${shots === 1 ? 'one shot brings' : `about ${shots} shots bring`}; those are for the regrind.`;
}

/** More scrap than anybody would make to warm a plate. Common practice, no source. */
const MANY_SHOTS = 20;

const GLOVES =
  'Take parts out with gloves or tongs, and never by reaching past an open guard that is held shut.';

const CHILLER_NOTES: { readonly [chiller: string]: string } = {
  'no-channels': ' The chiller was left out: the drawing has no WATER channels for it to run through.',
  'no-chiller': ' The chiller was left out: this press has none that is known.',
};

/** Says so where the chiller that was asked for could not be reckoned with. */
function chillerText({ figures }: Finding): string {
  return CHILLER_NOTES[String(figures.chiller)] ?? '';
}

export const plateWarmingWords = {
  name: 'Plate warming',
  group: 'Heat',
  line: (finding) => {
    if (finding.situation === 'minutes-to-limits')
      return `${numberText(finding.figure ?? 0, 0)} min to the first limit`;
    if (finding.situation === 'stays-below') return 'stays below its limits';
    const side = finding.allowed === 'at-least' ? 'at least' : 'at most';
    return `${numberText(finding.figure ?? 0, 0)} °C, ${side} ${numberText(Number(finding.limit), 0)}`;
  },
  past: (finding) => (finding.allowed === 'at-least' ? 'too cold' : 'too hot'),
  summary: {
    'minutes-to-limits': (finding) =>
      `${heatText(finding)}: without a pause the plate passes ${celsius(finding, 'skinC')}, where bare metal burns at a touch, ${afterText(finding, 'skinMin')}, and the ${celsius(finding, 'ceilingC')} above which ${finding.figures.polymer} no longer comes off sound ${afterText(finding, 'ceilingMin')}.${warmUpText(finding)}${chillerText(finding)}`,
    'stays-below': (finding) =>
      `${heatText(finding)}: the plate settles at ${celsius(finding, 'steadyC')}, below the ${celsius(finding, 'ceilingC')} of ${finding.figures.polymer} and below ${celsius(finding, 'skinC')}, where bare metal burns at a touch.${warmUpText(finding)}${chillerText(finding)}`,
    'stays-cool': (finding) =>
      `${heatText(finding)}: after ${figure(finding, 'shots')} shots the plate has ${celsius(finding, 'hottestC')}; ${finding.figures.polymer} allows ${celsius(finding, 'ceilingC')}.${warmUpText(finding)}${chillerText(finding)}`,
    'over-ceiling': (finding) =>
      `${heatText(finding)}: after ${figure(finding, 'shots')} shots the plate would have ${celsius(finding, 'hottestC')}. Above ${celsius(finding, 'ceilingC')}, reached ${afterText(finding, 'ceilingMin')}, ${finding.figures.polymer} no longer comes off sound.${chillerText(finding)}`,
    'hot-to-touch': (finding) =>
      `${heatText(finding)}: after ${figure(finding, 'shots')} shots the plate has ${celsius(finding, 'hottestC')}, which ${finding.figures.polymer} allows; but from ${celsius(finding, 'skinC')} on, passed ${afterText(finding, 'skinMin')}, bare metal burns at a touch.${warmUpText(finding)}${chillerText(finding)}`,
    'too-cold': (finding) =>
      `${heatText(finding)}: after ${figure(finding, 'shots')} shots the plate has only ${celsius(finding, 'hottestC')}. ${finding.figures.polymer} wants at least ${celsius(finding, 'floorC')}; colder, it sets with stresses and a poor skin.${chillerText(finding)}`,
    wet: (finding) =>
      `Chiller water of ${celsius(finding, 'waterC')} is colder than the dew point of a room of ${celsius(finding, 'roomC')} at 60 % moisture: water settles on the plate, marks the parts and rusts the bolster.`,
  },
  advice: {
    'minutes-to-limits': () => `Give the number of shots to have a verdict. ${GLOVES}`,
    'over-ceiling': () => `The chiller, or a pause after every shot, keeps it down. ${GLOVES}`,
    'hot-to-touch': () => GLOVES,
    'too-cold': () => 'Warm the plate before the first shot, and wait no longer than needed between shots.',
    wet: () => 'Set the chiller above the dew point, and dry the faces before closing.',
  },
  cures: {
    'use-chiller': (cure) => ({
      what: `Run the chiller through the plate: it settles at ${numberText(cure.amount, 0)} °C`,
      also: `Water of ${numberText(Number(cure.figures.waterC), 0)} °C; mind the dew point.`,
    }),
    pause: (cure) => ({
      what: `Wait ${quantityText(cure.amount, 's', 0)} after every shot, one in ${numberText(Number(cure.figures.cycleS), 0)} s`,
      also:
        cure.figures.sensitive === 1
          ? 'Not with this resin: melt that waits in the barrel breaks down. Use the chiller, or fewer shots at a time.'
          : 'The melt stays in the barrel longer: see stay in the barrel.',
    }),
  },
} satisfies CheckWords;
