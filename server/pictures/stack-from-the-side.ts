import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import type { Registration } from '../engineering/fit/registration-result.js';
import { screwOfBolt } from '../engineering/fit/screw-of-bolt.js';
import { type Bounds, boundsOfBoth, boundsOfPoints } from '../engineering/geometry/bounds.js';
import type { Point } from '../engineering/geometry/point.js';
import type { BolsterFacts, PlateFacts } from '../engineering/press-facts.js';
import { type Balloon, balloon } from './balloon.js';
import { deepestMm, depthAreas, depthStep } from './depth-steps.js';
import { horizontalDimension } from './dimension.js';
import { hatch } from './hatch.js';
import { placementOf } from './placement.js';
import { faceBounds, faceFrame, letterHeightFor, PIXELS_PER_UNIT } from './plate-on-bolster.js';
import type { SafeHtml } from './safe-html.js';
import { screwShape } from './screw-shape.js';
import { box, fixed, line, path, svg } from './svg.js';

export interface StackInput {
  readonly drawing: MeasuredDrawing;
  readonly registration: Registration;
  readonly bolster: BolsterFacts;
  readonly plate: Pick<
    PlateFacts,
    'thicknessMm' | 'facingThicknessMm' | 'packerThicknessMm' | 'screw' | 'screwGroups'
  >;
  /** The number of the finding about daylight, pointing at the gap or the parting line; null for none. */
  readonly balloon: Balloon | null;
  readonly label: string;
  /** Words of the picture: a length, and the least daylight as "12.0 min". */
  readonly words: {
    readonly length: (lengthMm: number) => string;
    readonly least: (lengthMm: number) => string;
  };
}

/** How much of each bolster half is drawn before it is broken off, in letter heights. */
const HALF_DRAWN = 3.6;
/** Room left and right for dimensions and a balloon, in letter heights. */
const ROOM = { left: 1.6, right: 3 };

interface Stations {
  readonly back: number;
  readonly packer: number;
  readonly plate: number;
  readonly facing: number;
  /** Where the fixed half stands: never nearer than the least daylight. */
  readonly fixed: number;
  readonly end: number;
}

/**
 * The closed stack from the side, beside the plate on the bolster at the same height and scale: moving half,
 * packer, plate with its cuts at their depth, facing plate, and the fixed half with the sprue. x runs from the
 * moving half's face. A stack below the least daylight leaves a gap, drawn solid.
 */
export function stackFromTheSide(input: StackInput): SafeHtml {
  const place = placementOf(input.drawing, input.registration);
  const face = faceBounds(input.bolster);
  const outline = boundsOfPoints(input.drawing.plate.outline.map(place));
  const all = boundsOfBoth(face, outline);
  const h = letterHeightFor(all);
  const at = stationsOf(input, h);
  const upright = faceFrame(all);
  return svg(
    {
      frame: {
        x: at.back - ROOM.left * h,
        y: upright.y,
        width: at.end - at.back + (ROOM.left + ROOM.right) * h,
        height: upright.height,
      },
      className: 'ps-picture ps-stack',
      label: input.label,
      letterHeight: h,
      pixelsPerUnit: PIXELS_PER_UNIT,
    },
    movingHalf(at, face, h) +
      plates(at, outline, h) +
      cuts(input, at, place) +
      gap(at, face) +
      fixedHalf(input.bolster, at, face, h) +
      screws(input, at, place) +
      line('ps-centre-line', at.back - h, 0, at.end + h, 0) +
      sizes(input, at, all, h) +
      numberOf(input, at, face, h),
  );
}

function stationsOf({ plate, bolster }: StackInput, h: number): Stations {
  const packer = plate.packerThicknessMm;
  const top = packer + plate.thicknessMm;
  const facing = top + plate.facingThicknessMm;
  const fixedHalfAt = Math.max(facing, bolster.minimumDaylightMm);
  return {
    back: -HALF_DRAWN * h,
    packer,
    plate: top,
    facing,
    fixed: fixedHalfAt,
    end: fixedHalfAt + HALF_DRAWN * h,
  };
}

function movingHalf(at: Stations, face: Bounds, h: number): string {
  return (
    path('ps-half', `${breakLine(at.back, face, h)}H0V${fixed(face.minY)}z`) +
    path('ps-hatch', hatch(at.back + 0.15 * h, face.minY, 0, face.maxY, 0.9 * h))
  );
}

function fixedHalf({ sprue }: BolsterFacts, at: Stations, face: Bounds, h: number): string {
  const wide = sprue.partingFaceDiameterMm / 2;
  const reach = Math.min(sprue.lengthMm, at.end - at.fixed);
  const narrow = wide + ((sprue.nozzleEndDiameterMm / 2 - wide) * reach) / sprue.lengthMm;
  return (
    path('ps-half', `${breakLine(at.end, face, h)}H${fixed(at.fixed)}V${fixed(face.minY)}z`) +
    path('ps-hatch', hatch(at.fixed, face.minY, at.end - 0.15 * h, face.maxY, 0.9 * h)) +
    path(
      'ps-sprue',
      `M${fixed(at.fixed)} ${fixed(-wide)}L${fixed(at.fixed + reach)} ${fixed(-narrow)}V${fixed(narrow)}L${fixed(at.fixed)} ${fixed(wide)}z`,
    )
  );
}

/** Path data of the broken edge of a half, from its top to its bottom. */
function breakLine(x: number, face: Bounds, h: number): string {
  const middle = (face.minY + face.maxY) / 2;
  const zigzag = `L${fixed(x)} ${fixed(middle + 3 * h)}l${fixed(0.5 * h)} ${fixed(0.5 * h)}l${fixed(-h)} ${fixed(h)}l${fixed(0.5 * h)} ${fixed(0.5 * h)}`;
  return `M${fixed(x)} ${fixed(face.minY)}${zigzag}V${fixed(face.maxY)}`;
}

function plates(at: Stations, outline: Bounds, h: number): string {
  const packer = at.packer > 0 ? box('ps-packer', 0, outline.minY, at.packer, outline.maxY) : '';
  const facing =
    at.facing > at.plate ? box('ps-packer', at.plate, outline.minY, at.facing, outline.maxY) : '';
  return (
    packer +
    box('ps-plate', at.packer, outline.minY, at.plate, outline.maxY) +
    path('ps-hatch', hatch(at.packer, outline.minY, at.plate, outline.maxY, 0.55 * h, false)) +
    facing
  );
}

/** Every cut at its depth, seen through the plate: deepest first, so that shallower ones before it stay visible. */
function cuts({ drawing }: StackInput, at: Stations, place: (point: Point) => Point): string {
  const deepest = deepestMm(drawing);
  return depthAreas(drawing)
    .toReversed()
    .map(({ depthMm, region }) => {
      const data = stretchesAlongY(region, place)
        .map(
          ([from, to]) =>
            `M${fixed(at.plate)} ${fixed(from)}H${fixed(at.plate - depthMm)}V${fixed(to)}H${fixed(at.plate)}z`,
        )
        .join('');
      return path(`ps-cut ps-d${depthStep(depthMm, deepest)}`, data);
    })
    .join('');
}

/** The stretches of height a region covers, joined where they overlap. */
function stretchesAlongY(
  region: readonly (readonly Point[])[],
  place: (point: Point) => Point,
): readonly (readonly [number, number])[] {
  const stretches = region
    .map((ring) => boundsOfPoints(ring.map(place)))
    .map((bounds) => [bounds.minY, bounds.maxY] as const)
    .toSorted((a, b) => a[0] - b[0]);
  const joined: (readonly [number, number])[] = [];
  for (const stretch of stretches) {
    const last = joined.at(-1);
    if (last && stretch[0] <= last[1] + 0.01)
      joined[joined.length - 1] = [last[0], Math.max(last[1], stretch[1])];
    else joined.push(stretch);
  }
  return joined;
}

function gap(at: Stations, face: Bounds): string {
  return at.fixed > at.facing ? box('ps-gap', at.facing, face.minY, at.fixed, face.maxY) : '';
}

/** Screws as their heads lie in the plate's face and their shanks reach the tapped holes, once for each height. */
function screws({ drawing, plate }: StackInput, at: Stations, place: (point: Point) => Point): string {
  const heights = new Map(drawing.bolts.map((bolt, index) => [fixed(place(bolt.at).y), { bolt, index }]));
  return [...heights.values()]
    .map(({ bolt, index }) => {
      const { y } = place(bolt.at);
      const screw = screwShape(screwOfBolt(plate, drawing.bolts, index));
      if (!screw) return '';
      const sink = drawing.sinks.find((candidate) => candidate.bolt === index);
      const depthMm = sink?.depthMm ?? screw.headSinkDepthMm;
      const underHead = at.plate - depthMm;
      const sinkMm = sink?.diameterMm ?? screw.headSinkDiameterMm ?? screw.headDiameterMm;
      const half = screw.threadDiameterMm / 2;
      return (
        (depthMm > 0 ? box('ps-sink', underHead, y - sinkMm / 2, at.plate, y + sinkMm / 2) : '') +
        box('ps-screw', underHead, y - half, underHead - screw.lengthMm, y + half) +
        box(
          'ps-screw',
          underHead,
          y - screw.headDiameterMm / 2,
          underHead + screw.headHeightMm,
          y + screw.headDiameterMm / 2,
        )
      );
    })
    .join('');
}

function sizes({ words, bolster, plate }: StackInput, at: Stations, all: Bounds, h: number): string {
  const stackMm = plate.packerThicknessMm + plate.thicknessMm + plate.facingThicknessMm;
  return (
    horizontalDimension(0, at.facing, all.minY - 0.8 * h, all.minY, words.length(stackMm), {
      letterHeight: h,
      outside: 'before',
    }) +
    horizontalDimension(
      0,
      bolster.minimumDaylightMm,
      all.maxY + 1.4 * h,
      all.maxY,
      words.least(bolster.minimumDaylightMm),
      { letterHeight: h },
    )
  );
}

function numberOf({ balloon: number }: StackInput, at: Stations, face: Bounds, h: number): string {
  if (!number) return '';
  const x = at.end + 1.9 * h;
  const y = face.minY + 0.2 * (face.maxY - face.minY);
  return balloon(number, x, y, (at.facing + at.fixed) / 2, y + 2 * h, h);
}
