import type { Finding } from '../../../engineering/finding.js';
import { numberText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { figure } from './figures.js';

function from(finding: Finding, least: string, most: string, unit: string): string {
  const [min, max] = [plain(figure(finding, least)), plain(figure(finding, most))];
  return min === max ? `${min} ${unit}` : `${min} to ${max} ${unit}`;
}

/** "2", "2.5": no more places than there are. */
function plain(value: number): string {
  return numberText(value, Number.isInteger(value) ? 0 : 1);
}

function heatText(finding: Finding): string {
  return `${from(finding, 'temperatureMinC', 'temperatureMaxC', '°C')} for ${from(finding, 'hoursMin', 'hoursMax', 'h')}`;
}

function toDoText(finding: Finding): string {
  const hours = plain(Number(finding.figure));
  return `Before the run, dry it ${hours} h at ${plain(figure(finding, 'temperatureUsualC'))} °C.`;
}

function airText({ figures }: Finding): string | null {
  const { airHoursMin, airHoursMax } = figures;
  if (typeof airHoursMin !== 'number' || typeof airHoursMax !== 'number') return null;
  return `An oven that blows the room’s own air takes ${plain(airHoursMin)} to ${plain(airHoursMax)} h.`;
}

function stayText({ figures }: Finding): string | null {
  const { sealedUntilHours, openMinutes } = figures;
  if (typeof sealedUntilHours !== 'number' || typeof openMinutes !== 'number') return null;
  return `Dry pellets are good for ${plain(sealedUntilHours)} h in a lidded pail with desiccant and for ${plain(openMinutes)} min in the open.`;
}

function freshText({ figures }: Finding): string | null {
  return figures.freshBagIsDry === 'yes' ? 'Straight from an unopened moisture-proof bag it is dry.' : null;
}

export const dryingWords: CheckWords = {
  name: 'Drying',
  group: 'Resin',
  line: (finding) => {
    if (finding.situation === 'not-known') return 'not known';
    return finding.situation === 'dry-first' ? heatText(finding) : 'none needed';
  },
  past: () => 'short',
  summary: {
    'not-needed': (finding) => `${finding.figures.polymer} needs no oven from a dry sack.`,
    'dry-first': (finding) =>
      `${finding.figures.polymer} must be dried before it is moulded: ${heatText(finding)}, no deeper than ${plain(figure(finding, 'trayDepthMm'))} mm in the tray, down to ${figure(finding, 'moistureMaxPercent')} % of water. Wet, it spits at the nozzle and the parts come out brittle or streaked.`,
    'not-known': () => 'How this resin is dried is not known: nobody has said it for the grade.',
  },
  advice: {
    'not-needed': (finding) => `If the pellets are damp to the touch: ${heatText(finding)}.`,
    'dry-first': (finding) =>
      [toDoText(finding), airText(finding), stayText(finding), freshText(finding)]
        .filter((text) => text !== null)
        .join(' '),
    'not-known': () => 'Ask for the grade’s data sheet and have a steward enter what it says of drying.',
  },
  cures: {},
};
