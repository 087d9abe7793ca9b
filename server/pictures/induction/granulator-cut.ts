import { hatch } from '../hatch.js';
import type { SafeHtml } from '../safe-html.js';
import { box, circle, line, path, svg } from '../svg.js';
import { zone } from './zone.js';

const LETTERS = 12.5;
const ROTOR = { x: 200, y: 142, r: 40 };

/** A granulator cut open: a chute too long for an arm, turning and fixed blades, what is locked before it is opened. */
export function granulatorCut(): SafeHtml {
  return svg(
    {
      frame: { x: 0, y: 0, width: 560, height: 262 },
      className: 'ps-picture ps-section-picture',
      label:
        'A granulator cut open. 1 the chute with its flaps, longer than an arm; 2 the rotor, which runs on and turns ' +
        'by hand; 3 the fixed blades, which cut as well; 4 the screen with its interlock; 5 the bin; 6 the isolator ' +
        'with a lock on it.',
      letterHeight: LETTERS,
    },
    line('ps-line', 0, 250, 560, 250) +
      path('ps-packer', 'M60 14H120L170 92H140z') +
      line('ps-hidden-edge', 96, 52, 132, 52) +
      line('ps-hidden-edge', 112, 74, 150, 74) +
      path('ps-half', `M130 92H270V192H130z`) +
      circle('ps-packer', ROTOR.x, ROTOR.y, ROTOR.r) +
      path('ps-hatch', hatch(ROTOR.x - 26, ROTOR.y - 26, ROTOR.x + 26, ROTOR.y + 26, 8)) +
      [0, 120, 240].map(blade).join('') +
      box('ps-cut ps-d4', 130, 132, 156, 146) +
      box('ps-cut ps-d4', 244, 132, 270, 146) +
      path('ps-hidden-edge', 'M140 188A62 62 0 0 0 260 188') +
      box('ps-packer', 150, 208, 250, 250) +
      box('ps-half', 360, 96, 420, 170) +
      circle('ps-packer', 390, 124, 16) +
      line('ps-line', 390, 112, 390, 136) +
      path('ps-line', 'M380 178v-8a10 10 0 0 1 20 0v8M374 178h32v22h-32z') +
      zone(1, 64, 52) +
      zone(2, ROTOR.x, ROTOR.y) +
      zone(3, 290, 139) +
      zone(4, 292, 180) +
      zone(5, ROTOR.x, 230) +
      zone(6, 440, 124),
  );
}

/** A turning blade at an angle from upright. */
function blade(degrees: number): string {
  const turn = (degrees * Math.PI) / 180;
  const at = (radius: number, more: number) =>
    `${(ROTOR.x + radius * Math.sin(turn + more)).toFixed(1)} ${(ROTOR.y - radius * Math.cos(turn + more)).toFixed(1)}`;
  return path('ps-cut ps-d4', `M${at(36, -0.2)}L${at(48, 0)}L${at(36, 0.25)}z`);
}
