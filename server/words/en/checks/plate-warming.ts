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

function gloves(finding: Finding): string {
  return `Take parts out with gloves or tongs, never past a guard that is bridged or held: from ${celsius(finding, 'handlingC')} on bare metal burns skin that holds it for ten seconds, from ${celsius(finding, 'skinC')} on at a touch of a second.`;
}

/** Why no more: the hottest mould for the resin, or so far below where its parts are firm; and which way it is moulded. */
function ceilingText(finding: Finding): string {
  const { ceilingBy, state } = finding.figures;
  const parts = typeof state === 'string' ? `${state} parts` : 'parts';
  return ceilingBy === 'ejection'
    ? `${celsius(finding, 'ceilingC')}, 10 K below the ${celsius(finding, 'ejectionC')} at which its ${parts} are firm enough to come out`
    : `${celsius(finding, 'ceilingC')} that a mould for its ${parts} may have at most`;
}

/** Where a resin is moulded in two ways, which of them this is. */
function stateText({ figures }: Finding): string {
  if (figures.state !== 'amorphous') return '';
  return ` This is for ${figures.polymer} quenched amorphous in a cold plate; crystalline parts want a hot plate and another set of temperatures, and the two do not mix.`;
}

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
      `${heatText(finding)}: without a pause the plate passes ${celsius(finding, 'skinC')}, where bare metal burns at a touch of a second, ${afterText(finding, 'skinMin')}, and what ${finding.figures.polymer} allows, the ${ceilingText(finding)}, ${afterText(finding, 'ceilingMin')}.${stateText(finding)}${warmUpText(finding)}${chillerText(finding)}`,
    'stays-below': (finding) =>
      `${heatText(finding)}: the plate settles at ${celsius(finding, 'steadyC')}, below what ${finding.figures.polymer} allows, the ${ceilingText(finding)}, and below ${celsius(finding, 'skinC')}, where bare metal burns at a touch of a second.${stateText(finding)}${warmUpText(finding)}${chillerText(finding)}`,
    'stays-cool': (finding) =>
      `${heatText(finding)}: after ${figure(finding, 'shots')} shots the plate has ${celsius(finding, 'hottestC')}; ${finding.figures.polymer} allows the ${ceilingText(finding)}.${stateText(finding)}${warmUpText(finding)}${chillerText(finding)}`,
    'over-ceiling': (finding) =>
      `${heatText(finding)}: after ${figure(finding, 'shots')} shots the plate would have ${celsius(finding, 'hottestC')}. ${finding.figures.polymer} allows the ${ceilingText(finding)}, reached ${afterText(finding, 'ceilingMin')}; on a hotter plate parts no longer come off sound.${stateText(finding)}${chillerText(finding)}`,
    'hot-to-touch': (finding) =>
      `${heatText(finding)}: after ${figure(finding, 'shots')} shots the plate has ${celsius(finding, 'hottestC')}, which ${finding.figures.polymer} allows; but from ${celsius(finding, 'skinC')} on, passed ${afterText(finding, 'skinMin')}, bare metal burns at a touch of a second.${stateText(finding)}${warmUpText(finding)}${chillerText(finding)}`,
    'too-cold': (finding) =>
      `${heatText(finding)}: after ${figure(finding, 'shots')} shots the plate has only ${celsius(finding, 'hottestC')}. ${finding.figures.polymer} wants at least ${celsius(finding, 'floorC')}; colder, it sets with stresses and a poor skin.${chillerText(finding)}`,
    wet: (finding) =>
      `Chiller water of ${celsius(finding, 'waterC')} is colder than the dew point of a room of ${celsius(finding, 'roomC')} at 60 % moisture: water settles on the plate, marks the parts and rusts the bolster.`,
  },
  advice: {
    'minutes-to-limits': (finding) => `Give the number of shots to have a verdict. ${gloves(finding)}`,
    'stays-cool': (finding) =>
      figure(finding, 'hottestC') > figure(finding, 'handlingC') ? gloves(finding) : null,
    'over-ceiling': (finding) =>
      figure(finding, 'sensitive') === 1
        ? `No pauses with ${finding.figures.polymer}: melt that waits in the barrel breaks down. The chiller keeps the plate cool, or fewer shots at a time; at the stop back the screw off and purge at once. ${gloves(finding)}`
        : `The chiller, or a pause after every shot, keeps it down. ${gloves(finding)}`,
    'hot-to-touch': gloves,
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
      also: 'The melt stays in the barrel longer: see stay in the barrel.',
    }),
    'fewer-shots': (cure) => ({
      what: `No more than ${cure.amount} ${cure.amount === 1 ? 'shot' : 'shots'} from cold, then let the plate cool`,
      also: 'Back the screw off and purge before the plate is left to cool, and purge again before the next first shot.',
    }),
  },
} satisfies CheckWords;
