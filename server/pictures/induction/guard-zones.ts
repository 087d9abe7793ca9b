import { hatch } from '../hatch.js';
import type { SafeHtml } from '../safe-html.js';
import { box, line, path, svg } from '../svg.js';
import { zone } from './zone.js';

const LETTERS = 12.5;
const FLOOR = 196;
const AXIS = 104;

/** A press from the operator's side with its guarded places, numbered from the clamp to the hopper. */
export function guardZones(): SafeHtml {
  return svg(
    {
      frame: { x: 0, y: 0, width: 560, height: 220 },
      className: 'ps-picture ps-section-picture',
      label:
        'A press from the side. 1 clamp, behind fixed covers; 2 mould area, behind the front and rear guards; ' +
        '3 top of the mould area; 4 opening under it where parts drop; 5 nozzle, behind the purge guard; ' +
        '6 barrel with its heaters; 7 hopper and throat.',
      letterHeight: LETTERS,
    },
    line('ps-line', 0, FLOOR, 560, FLOOR) +
      path('ps-hatch', hatch(0, FLOOR, 560, FLOOR + 12, 8)) +
      box('ps-half', 16, 150, 540, FLOOR) +
      clamp() +
      mouldArea() +
      injection() +
      [
        [1, 62, 68],
        [2, 196, 104],
        [3, 196, 34],
        [4, 196, 172],
        [5, 290, 66],
        [6, 388, 78],
        [7, 452, 40],
      ]
        .map(([number = 0, x = 0, y = 0]) => zone(number, x, y))
        .join(''),
  );
}

/** Cylinder and moving platen behind fixed covers. */
function clamp(): string {
  return (
    box('ps-packer', 24, 54, 106, 150) +
    box('ps-half', 106, 52, 130, 150) +
    path('ps-hatch', hatch(106, 52, 130, 150, 8)) +
    line('ps-thin', 50, AXIS, 106, AXIS) +
    line('ps-thin', 130, 62, 246, 62) +
    line('ps-thin', 130, 142, 246, 142)
  );
}

/** The two halves and the guards round them, dashed where they can be opened. */
function mouldArea(): string {
  return (
    box('ps-plate', 130, 74, 160, 134) +
    box('ps-plate', 226, 74, 246, 134) +
    box('ps-half', 246, 52, 270, 150) +
    path('ps-hatch', hatch(246, 52, 270, 150, 8)) +
    box('ps-hidden-edge', 134, 46, 242, 152) +
    path('ps-hatch', hatch(134, 22, 242, 46, 7)) +
    box('ps-hidden-edge', 134, 22, 242, 46) +
    box('ps-hidden-edge', 170, 152, 222, FLOOR)
  );
}

/** Nozzle, barrel with heater bands, hopper. */
function injection(): string {
  const bands = [330, 362, 394, 426]
    .map((x) => box('ps-cut ps-d2', x, AXIS - 17, x + 20, AXIS + 17))
    .join('');
  return (
    path('ps-half', `M270 ${AXIS - 5}L312 ${AXIS - 10}V${AXIS + 10}L270 ${AXIS + 5}z`) +
    box('ps-half', 312, AXIS - 14, 500, AXIS + 14) +
    bands +
    path('ps-packer', `M430 14H478L464 ${AXIS - 17}H446z`) +
    box('ps-half', 500, 74, 540, 150) +
    box('ps-hidden-edge', 272, 82, 318, 130)
  );
}
