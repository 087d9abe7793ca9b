import { crossingEffort } from '../geometry/self-crossing.js';
import { TooIntricate } from '../geometry/too-intricate.js';
import { shapesOfLayer } from './contours-of-layer.js';
import { DrawingRefused } from './drawing-refusal.js';
import { dxfDocumentOf } from './dxf-document.js';
import { dxfText } from './dxf-text.js';
import { Notices } from './notices.js';
import type { PlateDrawing } from './plate-drawing.js';
import { Reasons } from './reasons.js';
import { strokesByLayer } from './strokes-by-layer.js';
import { unitsOf } from './units.js';

/**
 * Reads a DXF file into the contours, centre lines and points of its feature layers, in mm.
 * @throws DrawingRefused with every reason found, for a file that is no plate drawing
 */
export function readDrawing(dxf: string | Uint8Array): PlateDrawing {
  return refusingIntricate(() => {
    const document = dxfDocumentOf(dxfText(dxf));
    const units = unitsOf(document.insunits);
    const notices = new Notices();
    const reasons = new Reasons();
    if (units.assumed) notices.add({ code: 'units-assumed' });
    const layers = strokesByLayer(document, units.mmPerUnit, notices, reasons);
    const effort = crossingEffort();
    const shapes = layers.map((layer) => shapesOfLayer(layer, notices, reasons, effort));
    reasons.refuseIfAny();
    return {
      units,
      notices: notices.list(),
      contours: shapes.flatMap(({ contours }) => contours),
      centreLines: shapes.flatMap(({ centreLines }) => centreLines),
      marks: shapes.flatMap(({ marks }) => marks),
    };
  });
}

/** Shapes too intricate to work out are refused like any other drawing. */
export function refusingIntricate<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof TooIntricate)) throw error;
    throw new DrawingRefused([{ code: 'drawing-too-intricate', limit: error.limit }]);
  }
}
