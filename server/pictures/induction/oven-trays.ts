import { verticalDimension } from '../dimension.js';
import type { SafeHtml } from '../safe-html.js';
import { box, circle, line, path, svg } from '../svg.js';
import { zone } from './zone.js';

const LETTERS = 12.5;

/** A drying oven, opened from the side: shallow trays of one resin, a cut-out of its own, a cleared place beside it. */
export function ovenTrays(): SafeHtml {
  return svg(
    {
      frame: { x: 0, y: 0, width: 560, height: 226 },
      className: 'ps-picture ps-section-picture',
      label:
        'A drying oven from the side. 1 two trays of one resin, filled to the depth of its sheet; 2 thermostat and ' +
        'timer; 3 a cut-out of its own above them; 4 a cleared place for a hot tray; 5 the label with resin, sack ' +
        'and time.',
      letterHeight: LETTERS,
    },
    line('ps-line', 0, 206, 560, 206) +
      box('ps-half', 60, 20, 300, 206) +
      box('ps-packer', 76, 36, 232, 190) +
      [84, 146].map(tray).join('') +
      verticalDimension(84, 108, 254, 226, 'depth', { letterHeight: LETTERS }) +
      box('ps-packer', 262, 120, 290, 148) +
      circle('ps-thin', 276, 58, 12) +
      path('ps-line', 'M276 50v8l6 5') +
      box('ps-half', 360, 150, 520, 206) +
      path('ps-hidden-edge', 'M384 126h112v24h-112z') +
      zone(1, 154, 66) +
      zone(2, 276, 166) +
      zone(3, 276, 86) +
      zone(4, 440, 108) +
      box('ps-packer', 412, 166, 468, 190) +
      line('ps-thin', 420, 174, 460, 174) +
      line('ps-thin', 420, 182, 446, 182) +
      zone(5, 490, 178),
  );
}

/** A tray with its pellets. */
function tray(top: number): string {
  const pellets = Array.from({ length: 14 }, (_, i) =>
    circle('ps-cut ps-d2', 94 + i * 9.6, top + 17, 4.2),
  ).join('');
  return pellets + path('ps-line', `M84 ${top}V${top + 24}H226V${top}`);
}
