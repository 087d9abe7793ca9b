import { arrow, horizontalDimension } from '../dimension.js';
import { hatch } from '../hatch.js';
import type { SafeHtml } from '../safe-html.js';
import { box, line, path, svg } from '../svg.js';

/** Least distance of the two bolster faces in the drawing; the mounted bolster's own stands on its sheet. */
const DAYLIGHT_MM = 12;

const LETTERS = 12.5;
const UNITS_PER_MM = 5.5;
const HALF = 58;
const TOP = 46;
const BOTTOM = 206;
const AXIS = (TOP + BOTTOM) / 2;
/** One frame for every stack, so that drawings side by side keep one scale. */
const FRAME_WIDTH = 2 * HALF + 16 * UNITS_PER_MM + 40;
const SPRUE = { inner: 7, outer: 11 };

/**
 * A stack between the moving and the fixed half of a bolster, from the side: it fills the least daylight, or it
 * leaves a gap through which melt sprays. Packers stand behind the plate, on the moving side.
 */
export function stackBetweenFaces({ packerMm, plateMm }: { packerMm: number; plateMm: number }): SafeHtml {
  const stackMm = packerMm + plateMm;
  const packer = packerMm * UNITS_PER_MM;
  const stack = stackMm * UNITS_PER_MM;
  const least = DAYLIGHT_MM * UNITS_PER_MM;
  const faces = Math.max(stack, least);
  const open = stackMm < DAYLIGHT_MM;
  const cut = stack - 9;
  return svg(
    {
      frame: { x: -HALF - 12, y: 0, width: FRAME_WIDTH, height: 250 },
      className: 'ps-picture ps-section-picture',
      label: labelOf(packerMm, plateMm),
      letterHeight: LETTERS,
    },
    half(-HALF, 0) +
      half(faces, faces + HALF) +
      path(
        'ps-cut ps-d4',
        `M${faces} ${AXIS - SPRUE.inner}L${faces + HALF} ${AXIS - SPRUE.outer}V${AXIS + SPRUE.outer}L${faces} ${AXIS + SPRUE.inner}z`,
      ) +
      (packerMm > 0 ? box('ps-packer', 0, TOP + 22, packer, BOTTOM - 22) : '') +
      box('ps-plate', packer, TOP + 22, stack, BOTTOM - 22) +
      path('ps-hatch', hatch(packer, TOP + 22, stack, BOTTOM - 22, 6, false)) +
      box('ps-cut ps-d4', cut, AXIS - 32, stack, AXIS + 32) +
      (open ? box('ps-gap', stack, TOP + 22, least, BOTTOM - 22) + spray(stack, least) : push(faces)) +
      line('ps-centre-line', -HALF - 8, AXIS, faces + HALF + 8, AXIS) +
      horizontalDimension(0, least, 20, TOP, `${DAYLIGHT_MM} at least`, { letterHeight: LETTERS }) +
      horizontalDimension(0, stack, 232, BOTTOM, stackText(packerMm, plateMm), { letterHeight: LETTERS }),
  );
}

function half(x1: number, x2: number): string {
  return box('ps-half', x1, TOP, x2, BOTTOM) + path('ps-hatch', hatch(x1, TOP, x2, BOTTOM, 9));
}

/** The clamp force, on both halves. */
function push(faces: number): string {
  return [TOP + 36, BOTTOM - 36]
    .map(
      (y) =>
        line('ps-thin', -HALF + 8, y, -10, y) +
        path('ps-arrow', arrow(-6, y, 1, 0, 18)) +
        line('ps-thin', faces + HALF - 8, y, faces + 10, y) +
        path('ps-arrow', arrow(faces + 6, y, -1, 0, 18)),
    )
    .join('');
}

/** Melt that leaves the gap at both edges. */
function spray(from: number, to: number): string {
  const middle = (from + to) / 2;
  return [-1, 0, 1]
    .map((lean) => {
      const foot = middle + lean * 4;
      const tip = middle + lean * 16;
      return (
        path('ps-spray', `M${foot} ${TOP + 22}Q${foot} ${TOP} ${tip} ${TOP - 8}`) +
        path('ps-spray', `M${foot} ${BOTTOM - 22}Q${foot} ${BOTTOM} ${tip} ${BOTTOM + 8}`)
      );
    })
    .join('');
}

function stackText(packerMm: number, plateMm: number): string {
  return packerMm > 0 ? `${packerMm} + ${plateMm} = ${packerMm + plateMm}` : `stack ${plateMm}`;
}

function labelOf(packerMm: number, plateMm: number): string {
  const stackMm = packerMm + plateMm;
  const stack =
    packerMm > 0 ? `A plate of ${plateMm} mm on a packer of ${packerMm} mm` : `A plate of ${plateMm} mm`;
  const end =
    stackMm < DAYLIGHT_MM
      ? `the faces stop at ${DAYLIGHT_MM} mm, a gap of ${DAYLIGHT_MM - stackMm} mm stays open and melt leaves through it`
      : 'the faces close on it and the clamp force goes through it';
  return `${stack} between the bolster faces, from the side: ${end}.`;
}
