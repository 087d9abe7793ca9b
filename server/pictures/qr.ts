import { create } from 'qrcode';
import type { SafeHtml } from './safe-html.js';
import { box, path, svg } from './svg.js';

/** Modules of quiet ground that a reader wants on every side (ISO/IEC 18004). */
const QUIET = 4;

/** An address as a QR symbol, black on white whatever the tone of the sheet: readers want it so. */
export function qr(address: string, label: string): SafeHtml {
  const { modules } = create(address, { errorCorrectionLevel: 'M' });
  const size = modules.size + 2 * QUIET;
  let dark = '';
  for (let row = 0; row < modules.size; row++) {
    for (let column = 0; column < modules.size; column++) {
      if (modules.get(row, column) !== 0) dark += `M${column + QUIET} ${row + QUIET}h1v1h-1z`;
    }
  }
  return svg(
    { frame: { x: 0, y: 0, width: size, height: size }, className: 'ps-qr', label },
    box('ps-qr__ground', 0, 0, size, size) + path('ps-qr__dark', dark),
  );
}
