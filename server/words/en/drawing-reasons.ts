import type { DrawingRefusalCode } from '../../engineering/drawing/drawing-refusal.js';
import type { Reason } from '../../reasons.js';
import { numberText, placeText } from './numbers.js';

/** What was refused and what to do about it. */
export interface ReasonWords {
  readonly message: string;
  readonly fix: string;
}

/** The entity, its layer and where it is, as far as they are known: `The LINE on layer CAVITY 3 at x 1.0, y 2.0 mm`. */
function subject({ place = {} }: Reason, otherwise = 'Something in the drawing'): string {
  const what = place.entity
    ? `The ${place.entity}`
    : place.layer || place.block || place.xMm !== undefined
      ? 'What is drawn'
      : otherwise;
  const layer = place.layer ? ` on layer ${place.layer}` : '';
  const block = place.block ? ` in block ${place.block}` : '';
  return `${what}${layer}${block}${at(place)}`;
}

function at(place: Reason['place']): string {
  const isKnown = Number.isFinite(place?.xMm) && Number.isFinite(place?.yMm);
  return isKnown ? ` at ${placeText(place?.xMm ?? 0, place?.yMm ?? 0)}` : '';
}

/** Where the other of two things is. */
function atOther(reason: Reason): string {
  return at({ xMm: number(reason, 'toXMm') ?? Number.NaN, yMm: number(reason, 'toYMm') ?? Number.NaN });
}

function onLayer(reason: Reason): string {
  return reason.place?.layer ? ` on layer ${reason.place.layer}` : '';
}

function number(reason: Reason, name: string): number | null {
  const figure = reason.figures?.[name];
  return typeof figure === 'number' && Number.isFinite(figure) ? figure : null;
}

function quoted(reason: Reason, name = 'value'): string {
  const figure = reason.figures?.[name];
  return figure === undefined ? '' : ` (${figure})`;
}

function gapText(reason: Reason): string {
  const gapMm = number(reason, 'lengthMm');
  const toX = number(reason, 'toXMm');
  const toY = number(reason, 'toYMm');
  const size = gapMm === null ? 'a gap' : `a gap of ${numberText(gapMm, gapMm < 0.1 ? 3 : 2)} mm`;
  const far = toX === null || toY === null ? '' : ` and the next end is at ${placeText(toX, toY)}`;
  return `${size}${at(reason.place)}${far}`;
}

function lineText(reason: Reason): string {
  const line = number(reason, 'line');
  return line === null ? '' : ` (line ${line} of the file)`;
}

function megabytes(reason: Reason, name: string, prefix: string): string {
  const bytes = number(reason, name);
  return bytes === null ? '' : `${prefix}${numberText(bytes / 2 ** 20)} MiB`;
}

/** Sentences for the drawings that are turned away. `figures`: lengthMm, toXMm, toYMm, value, limit, line. */
export const DRAWING_REASONS = {
  'drawing-empty': () => ({
    message: 'The drawing is empty: no text arrived.',
    fix: 'Send the DXF file itself, saved as text (ASCII) DXF.',
  }),
  'drawing-binary': () => ({
    message: 'The file is a binary DXF, which cannot be read here.',
    fix: 'Export it again as text (ASCII) DXF; most CAD programs offer that in the export dialogue.',
  }),
  'drawing-not-dxf': (reason) => ({
    message: `The file is not a DXF drawing${lineText(reason)}: it does not follow DXF’s pairs of group code and value.`,
    fix: 'Export the drawing as DXF from the CAD program; a renamed file of another kind will not do.',
  }),
  'drawing-truncated': (reason) => ({
    message: `The file is truncated: it ends in the middle${reason.place?.entity ? ` of a ${reason.place.entity}` : ''}${onLayer(reason)}${lineText(reason)}, before its end-of-file mark.`,
    fix: 'Save or download the file again; the copy is incomplete.',
  }),
  'drawing-too-large': (reason) => ({
    message: `The file is too large${megabytes(reason, 'value', ': ')}${megabytes(reason, 'limit', ', at most ')}.`,
    fix: 'Leave out what is not part of the plate: title blocks, hatches, imported pictures, other views.',
  }),
  'drawing-too-many-entities': (reason) => ({
    message: `The drawing has too many entities${quoted(reason)}; the limit is ${reason.figures?.limit ?? '200,000'}.`,
    fix: 'Export curves as arcs and splines instead of short lines, and leave out what is not part of the plate.',
  }),
  'drawing-too-intricate': () => ({
    message:
      'The drawing is too intricate: its shapes have more edges close together than a real part needs.',
    fix: 'Export curves as arcs and splines instead of short lines, and leave out textures and hatches.',
  }),
  'drawing-no-entities': () => ({
    message: 'The drawing has no entities: nothing is drawn in model space.',
    fix: 'Draw the plate in model space, on visible layers, and export again.',
  }),
  'drawing-units-unknown': (reason) => ({
    message: `The drawing states units that are not read here: $INSUNITS is${quoted(reason) || ' unknown'}.`,
    fix: 'Set the drawing units to millimetres ($INSUNITS 4); centimetres, metres and inches are read too.',
  }),
  'drawing-coordinate-not-finite': (reason) => ({
    message: `${subject(reason)} has a coordinate that is not a finite number${quoted(reason)}: it is not a number or infinite.`,
    fix: 'Delete that entity and draw it again, then export.',
  }),
  'drawing-coordinate-too-far': (reason) => ({
    message: `${subject(reason)} has a coordinate too far out: more than 10 m from the rest or from the origin.`,
    fix: 'Find the stray point (zoom to extents), delete or move it, and check the drawing units.',
  }),
  'drawing-block-nested-in-itself': (reason) => ({
    message: `Block ${reason.place?.block ?? 'in the drawing'} is nested in itself: it inserts itself, directly or through another block.`,
    fix: 'Explode the block or remove the INSERT of itself.',
  }),
  'drawing-block-missing': (reason) => ({
    message: `${subject(reason, 'An INSERT')} calls for a block that is not in the file.`,
    fix: 'Bind or explode external references before the export.',
  }),
  'drawing-blocks-too-deep': (reason) => ({
    message: `${subject(reason, 'An INSERT')} is nested too deep${quoted(reason)}.`,
    fix: 'Explode some of the nested blocks.',
  }),
  'drawing-entity-unsupported': (reason) => ({
    message: `${subject(reason)} is of a kind that is not read on a feature layer.`,
    fix: 'Turn it into lines, arcs, circles, polylines, ellipses or splines, or move it to a layer of another name.',
  }),
  'drawing-entity-damaged': (reason) => ({
    message: `${subject(reason)} is damaged: a value that it needs is missing or makes no sense${quoted(reason)}.`,
    fix: 'Delete that entity and draw it again, then export.',
  }),
  'drawing-entity-not-flat': (reason) => ({
    message: `${subject(reason)} does not lie flat in the drawing plane.`,
    fix: 'Project the drawing onto the x-y plane before the export; depths belong in the layer names.',
  }),
  'drawing-spline-fit-points-only': (reason) => ({
    message: `${subject(reason, 'A SPLINE')} is a SPLINE given by fit points only: its curve is not defined in the file.`,
    fix: 'Export splines with control points, or convert that spline to a polyline or arcs.',
  }),
  'drawing-layer-without-depth': (reason) => ({
    message: `Layer ${reason.place?.layer ? `${reason.place.layer} ` : ''}names a feature without its depth.`,
    fix: 'Add the depth in mm to the layer name, for instance CAVITY 2.5 or RUNNER 3 W4.',
  }),
  'drawing-layer-unreadable': (reason) => ({
    message: `The layer name ${reason.place?.layer ? `${reason.place.layer} ` : ''}starts with a feature but the rest is not a depth or a width${quoted(reason)}.`,
    fix: 'Write it as FEATURE depth Wwidth, numbers in mm, for instance GATE 0.8 W1.5.',
  }),
  'drawing-contour-open': (reason) => ({
    message: `The contour${onLayer(reason)} is open: it is not closed, with ${gapText(reason)}.`,
    fix: 'Close the contour: join the two ends, or trim the lines to each other. Ends within 0.05 mm are joined by themselves.',
  }),
  'drawing-contour-self-crossing': (reason) => ({
    message: `The contour${onLayer(reason)} crosses itself${at(reason.place)}.`,
    fix: 'Redraw it so that it goes round once without crossing itself; two pockets that meet are drawn as two contours.',
  }),
  'drawing-contour-empty': (reason) => ({
    message: `The contour${onLayer(reason)}${at(reason.place)} encloses no area.`,
    fix: 'Delete it, or draw it with a size.',
  }),
  'drawing-open-path-without-width': (reason) => ({
    message: `${subject(reason, 'An open path')} is an open path without a width.`,
    fix: 'Add the cutter width to the layer name, for instance RUNNER 3 W4, or close the contour.',
  }),
  'drawing-not-a-circle': (reason) => ({
    message: `${subject(reason)} is not a circle, and this feature is a round hole.`,
    fix: 'Draw it as one CIRCLE of the hole’s diameter.',
  }),
  'drawing-no-plate': () => ({
    message: 'The drawing has no plate: nothing is drawn on a layer PLATE.',
    fix: 'Put the outline of the plate on a layer named PLATE, as one closed contour.',
  }),
  'drawing-two-plates': (reason) => ({
    message: `The drawing has two plate outlines or more${onLayer(reason)}; it must have exactly one${at(reason.place) ? ` (one is drawn from${atOther(reason).replace(' at', '')}, another from${at(reason.place).replace(' at', '')})` : ''}.`,
    fix: 'Keep one plate per file; move the other to a file of its own.',
  }),
  'drawing-no-feed': () => ({
    message: 'The drawing has no feed: there is no circle or point on a layer FEED.',
    fix: 'Draw one circle or point on a layer FEED where the sprue meets the plate.',
  }),
  'drawing-two-feeds': (reason) => ({
    message: `The drawing has more than one feed; the second is on layer ${reason.place?.layer ?? 'FEED'}${at(reason.place)}.`,
    fix: 'Keep the one circle or point where the sprue meets the plate.',
  }),
  'drawing-no-cavity': () => ({
    message: 'The drawing has no cavity: nothing is drawn on a layer CAVITY.',
    fix: 'Draw the part as closed contours on a layer CAVITY with its depth, for instance CAVITY 2.5.',
  }),
  'drawing-sink-without-bolt': (reason) => ({
    message: `The counterbore on layer ${reason.place?.layer ?? 'SINK'}${at(reason.place)} is without a bolt hole: no bolt hole lies in it.`,
    fix: 'Draw a BOLT circle inside the SINK, or delete the SINK.',
  }),
  'drawing-outside-plate': (reason) => ({
    message: `${subject(reason)} lies outside the plate outline.`,
    fix: 'Move it inside the PLATE contour, or make the plate larger.',
  }),
  'drawing-took-too-long': () => ({
    message: 'Reading the drawing took too long and was stopped.',
    fix: 'Simplify it: fewer short segments, no nested arrays, only what belongs to the plate.',
  }),
} satisfies { readonly [code in DrawingRefusalCode]: (reason: Reason) => ReasonWords };
