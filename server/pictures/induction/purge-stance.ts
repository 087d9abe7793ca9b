import { hatch } from '../hatch.js';
import type { SafeHtml } from '../safe-html.js';
import { box, circle, line, path, svg, text } from '../svg.js';
import { zone } from './zone.js';

const LETTERS = 12.5;
const AXIS = 96;

/** Where one stands while purging, from above: beside the nozzle, never in its line, nobody over the hopper. */
export function purgeStance(): SafeHtml {
  return svg(
    {
      frame: { x: 0, y: 0, width: 560, height: 252 },
      className: 'ps-picture ps-section-picture',
      label:
        'Purging, from above. The barrel is drawn back from the mould; the line of the nozzle and the room over ' +
        'the hopper are hatched: nobody stands there. 1 the operator at the panel, beside the barrel and behind ' +
        'the purge guard; 2 the second person, within call, at the emergency stop; 3 water for the purge; ' +
        '4 extraction.',
      letterHeight: LETTERS,
    },
    box('ps-half', 40, 36, 96, 156) +
      box('ps-hidden-edge', 96, 36, 250, 156) +
      path('ps-hatch', hatch(96, AXIS - 34, 250, AXIS + 34, 8)) +
      path('ps-half', `M250 ${AXIS - 6}L290 ${AXIS - 12}V${AXIS + 12}L250 ${AXIS + 6}z`) +
      box('ps-half', 290, AXIS - 17, 480, AXIS + 17) +
      circle('ps-packer', 430, AXIS, 26) +
      path('ps-hatch', hatch(404, AXIS - 26, 456, AXIS + 26, 8)) +
      line('ps-line', 226, 156, 330, 156) +
      text('ps-dim-text', 278, 172, 'purge guard shut') +
      text('ps-dim-text', 173, 28, 'nobody in this line') +
      text('ps-dim-text', 430, 60, 'nobody above') +
      person(1, 366, 196) +
      person(2, 470, 214) +
      box('ps-cut ps-d2', 192, 176, 226, 204) +
      zone(3, 174, 190) +
      path('ps-line', 'M262 22h44l-10 26h-24z') +
      zone(4, 330, 34),
  );
}

/** Head and shoulders from above. */
function person(number: number, x: number, y: number): string {
  return path('ps-packer', `M${x - 26} ${y}a26 15 0 1 0 52 0a26 15 0 1 0 -52 0z`) + zone(number, x, y);
}
