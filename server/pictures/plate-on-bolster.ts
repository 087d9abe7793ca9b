import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import type { HoleMatch, Registration } from '../engineering/fit/registration-result.js';
import { screwOfBolt } from '../engineering/fit/screw-of-bolt.js';
import { type Bounds, boundsOfBoth, boundsOfPoints } from '../engineering/geometry/bounds.js';
import { ringContains } from '../engineering/geometry/contains.js';
import type { Point, Ring } from '../engineering/geometry/point.js';
import type { BolsterFacts, PlateFacts } from '../engineering/press-facts.js';
import { BALLOON_RADIUS, type Balloon, balloon } from './balloon.js';
import { deepestMm, depthAreas, depthStep } from './depth-steps.js';
import { arrow, horizontalDimension, verticalDimension } from './dimension.js';
import { placementOf } from './placement.js';
import { regionPath } from './region-path.js';
import type { SafeHtml } from './safe-html.js';
import { screwShape, tappedHoleDiameters } from './screw-shape.js';
import { box, circle, type Frame, fixed, line, path, svg, text } from './svg.js';

export interface PlateOnBolsterInput {
  readonly drawing: MeasuredDrawing;
  readonly registration: Registration;
  readonly bolster: BolsterFacts;
  readonly screw: PlateFacts['screw'];
  /** Holes with another screw; none when left out. */
  readonly screwGroups?: PlateFacts['screwGroups'];
  /** Numbers that stand after findings' names, with a place on the drawing. */
  readonly balloons: readonly (Balloon & { readonly at: Point })[];
  /** What the picture shows, in words. */
  readonly label: string;
  /** Words of the picture itself: "bolster face 200 × 160", "no hole here". */
  readonly words: {
    readonly face: string;
    readonly noHole: string;
    readonly length: (lengthMm: number) => string;
  };
}

/** Margins round the face and the height of letters, for a face of 200 by 160 mm; larger ones keep the proportion. */
const MARGIN = { left: 20, right: 16, top: 12, bottom: 20 };
const LETTERS = 6;
const FACE_WIDTH = 200;
const FACE_HEIGHT = 160;

interface Drawn extends PlateOnBolsterInput {
  readonly place: (point: Point) => Point;
  readonly face: Bounds;
  readonly outline: Ring;
  readonly plate: Bounds;
  /** Face and plate together. */
  readonly all: Bounds;
  readonly h: number;
}

/** The plate to scale on the bolster's face, one unit a millimetre, the sprue at the origin, seen on the parting face. */
export function plateOnBolster(input: PlateOnBolsterInput): SafeHtml {
  const drawn = place(input);
  return svg(
    {
      frame: faceFrame(drawn.all, balloonRows(drawn)),
      className: 'ps-picture ps-plan',
      label: input.label,
      letterHeight: drawn.h,
      pixelsPerUnit: PIXELS_PER_UNIT,
    },
    faceAndFreeHoles(drawn) +
      plateAndCuts(drawn) +
      coveredEdges(drawn) +
      coveredHoles(drawn) +
      screws(drawn) +
      hiddenBores(drawn) +
      centreLines(drawn) +
      sizes(drawn) +
      wrongHoles(drawn) +
      balloons(drawn),
  );
}

/** Both views ask for the same size of a unit, so that they shrink together and keep one scale. */
export const PIXELS_PER_UNIT = 10;

/** The height of letters for a face (and plate) of that size. */
export function letterHeightFor(all: Bounds): number {
  return LETTERS * scaleOf(all);
}

/** The frame round face and plate; the view from the side has the same top and height. */
export function faceFrame(all: Bounds, rowsOfBalloons = 1): Frame {
  const s = scaleOf(all);
  const top = MARGIN.top * s * rowsOfBalloons;
  return {
    x: all.minX - MARGIN.left * s,
    y: all.minY - top,
    width: all.maxX - all.minX + (MARGIN.left + MARGIN.right) * s,
    height: all.maxY - all.minY + top + MARGIN.bottom * s,
  };
}

/** The face in the picture's axes, y down. */
export function faceBounds(bolster: BolsterFacts): Bounds {
  const { widthMm, heightMm, centre } = bolster.face;
  return {
    minX: centre.x - widthMm / 2,
    maxX: centre.x + widthMm / 2,
    minY: -centre.y - heightMm / 2,
    maxY: -centre.y + heightMm / 2,
  };
}

function scaleOf(all: Bounds): number {
  return Math.max((all.maxX - all.minX) / FACE_WIDTH, (all.maxY - all.minY) / FACE_HEIGHT);
}

function place(input: PlateOnBolsterInput): Drawn {
  const toPicture = placementOf(input.drawing, input.registration);
  const outline = input.drawing.plate.outline.map(toPicture);
  const face = faceBounds(input.bolster);
  const plate = boundsOfPoints(outline);
  const all = boundsOfBoth(face, plate);
  return { ...input, place: toPicture, face, outline, plate, all, h: letterHeightFor(all) };
}

function faceAndFreeHoles({ bolster, face, all, outline, words, h, registration }: Drawn): string {
  const used = usedHoles(registration);
  let holes = '';
  for (const [index, hole] of bolster.holes.entries()) {
    const x = hole.at.x;
    const y = -hole.at.y;
    if (used.has(index) || ringContains(outline, { x, y })) continue;
    const { threadMm, coreMm } = tappedHoleDiameters(hole.thread);
    const r = threadMm / 2;
    holes += circle('ps-thin', x, y, coreMm / 2);
    // A thread seen from above: three quarters of a thin circle.
    holes += path(
      'ps-thin',
      `M${fixed(x)} ${fixed(y - r)}A${fixed(r)} ${fixed(r)} 0 1 1 ${fixed(x - r)} ${fixed(y)}`,
    );
  }
  const openings = regionPath(bolster.faceOpenings, ({ x, y }) => ({ x, y: -y }));
  return (
    box('ps-face', face.minX, face.minY, face.maxX, face.maxY) +
    path('ps-opening', openings) +
    text('ps-soft-text', face.minX, all.minY - 0.35 * h, words.face, 'start') +
    holes
  );
}

function plateAndCuts({ drawing, place }: Drawn): string {
  const deepest = deepestMm(drawing);
  const metal = regionPath([drawing.plate.outline, ...drawing.plate.openings], place);
  return (
    path('ps-plate', metal) +
    depthAreas(drawing)
      .map(({ depthMm, region }) =>
        path(`ps-cut ps-d${depthStep(depthMm, deepest)}`, regionPath(region, place)),
      )
      .join('')
  );
}

/** The face's own edge, dashed, where a plate hangs over it. */
function coveredEdges({ face, plate }: Drawn): string {
  const overhangs =
    plate.minX < face.minX || plate.maxX > face.maxX || plate.minY < face.minY || plate.maxY > face.maxY;
  return overhangs ? box('ps-hidden-edge', face.minX, face.minY, face.maxX, face.maxY) : '';
}

/** Tapped holes the plate hides, dashed. */
function coveredHoles({ bolster, outline, registration }: Drawn): string {
  const used = usedHoles(registration);
  return bolster.holes
    .map((hole, index) => {
      const at = { x: hole.at.x, y: -hole.at.y };
      if (used.has(index) || !ringContains(outline, at)) return '';
      return circle('ps-hidden-edge', at.x, at.y, tappedHoleDiameters(hole.thread).threadMm / 2);
    })
    .join('');
}

function screws({ drawing, place, screw: given, screwGroups = [], registration }: Drawn): string {
  const facts = { screw: given, screwGroups };
  const matched = new Set(registration.matches.filter((match) => match.matched).map((match) => match.bolt));
  return drawing.bolts
    .map((bolt, index) => {
      const { x, y } = place(bolt.at);
      const hole = circle('ps-bolt', x, y, bolt.diameterMm / 2);
      const screw = screwShape(screwOfBolt(facts, drawing.bolts, index));
      if (!screw || !matched.has(index)) return hole;
      const sink = drawing.sinks.find((candidate) => candidate.bolt === index);
      const sinkMm = sink?.diameterMm ?? screw?.headSinkDiameterMm ?? null;
      const rim = sinkMm === null ? '' : circle('ps-bolt', x, y, sinkMm / 2);
      return (
        rim + circle('ps-bolt', x, y, screw.headDiameterMm / 2) + path('ps-bolt', hexagon(x, y, screw.hexMm))
      );
    })
    .join('');
}

/** A socket across its flats. */
function hexagon(x: number, y: number, acrossFlats: number): string {
  const r = acrossFlats / Math.sqrt(3);
  const corners = Array.from({ length: 6 }, (_none, index) => {
    const angle = (index * Math.PI) / 3;
    return `${fixed(x + r * Math.cos(angle))} ${fixed(y + r * Math.sin(angle))}`;
  });
  return `M${corners.join('L')}z`;
}

function hiddenBores({ drawing, place }: Drawn): string {
  const water = drawing.water.map((channel) => path('ps-hidden-edge', regionPath(channel.region, place)));
  const dowels = drawing.dowels.map((dowel) => {
    const { x, y } = place(dowel.at);
    const r = dowel.diameterMm / 2;
    return (
      circle('ps-bolt', x, y, r) +
      path(
        'ps-dowel',
        `M${fixed(x)} ${fixed(y)}V${fixed(y - r)}A${fixed(r)} ${fixed(r)} 0 0 1 ${fixed(x + r)} ${fixed(y)}zM${fixed(x)} ${fixed(y)}V${fixed(y + r)}A${fixed(r)} ${fixed(r)} 0 0 1 ${fixed(x - r)} ${fixed(y)}z`,
      )
    );
  });
  return water.join('') + dowels.join('');
}

function centreLines({ face, bolster, h }: Drawn): string {
  return (
    line('ps-centre-line', face.minX - 0.6 * h, 0, face.maxX + 0.6 * h, 0) +
    line('ps-centre-line', 0, face.minY - 0.6 * h, 0, face.maxY + 0.6 * h) +
    circle('ps-sprue', 0, 0, bolster.sprue.partingFaceDiameterMm / 2)
  );
}

function sizes({ plate, all, words, h }: Drawn): string {
  return (
    horizontalDimension(
      plate.minX,
      plate.maxX,
      all.maxY + 2 * h,
      plate.maxY,
      words.length(plate.maxX - plate.minX),
      { letterHeight: h },
    ) +
    verticalDimension(
      plate.minY,
      plate.maxY,
      all.minX - 1.6 * h,
      plate.minX,
      words.length(plate.maxY - plate.minY),
      {
        letterHeight: h,
      },
    )
  );
}

/** A ring in the stop tone round a hole that meets none, and an arrow from it to where it should be. */
function wrongHoles(drawn: Drawn): string {
  return drawn.registration.matches
    .filter((match) => !match.matched)
    .map((match) => wrongHole(drawn, match))
    .join('');
}

function wrongHole({ drawing, place, bolster, words, h }: Drawn, match: HoleMatch): string {
  const bolt = drawing.bolts[match.bolt];
  if (!bolt) return '';
  const { x, y } = place(bolt.at);
  const ringMm = bolt.diameterMm / 2 + h;
  const ring = circle('ps-ring ps-tone-stop', x, y, ringMm);
  const target = match.hole === null ? undefined : bolster.holes[match.hole];
  // Words stand on the side of the ring that looks to the middle of the face.
  const side = x > 0 ? -1 : 1;
  const label = (written: string) =>
    text(
      'ps-wrong-text ps-tone-stop',
      x + side * (ringMm + 0.3 * h),
      y - 0.45 * h,
      written,
      side > 0 ? 'start' : 'end',
    );
  if (!target) return ring + label(words.noHole);
  const length = Math.hypot(match.error.x, match.error.y) || 1;
  const toX = target.at.x;
  const toY = -target.at.y;
  const dx = -match.error.x / length;
  const dy = match.error.y / length;
  // A short way is shown by an arrow that comes from behind the hole, from beyond the ring.
  const tail = length > 1.2 * h ? 0 : ringMm + 1.2 * h;
  return (
    ring +
    circle('ps-hidden-edge ps-tone-stop', toX, toY, tappedHoleDiameters(target.thread).threadMm / 2) +
    line('ps-dim ps-tone-stop', x - dx * tail, y - dy * tail, toX, toY) +
    path('ps-arrow ps-tone-stop', arrow(toX, toY, dx, dy, h)) +
    label(words.length(match.errorMm))
  );
}

/**
 * Balloons stand in rows above the face, right of its name, in the order of what they point at, each as near to
 * that as the one before and those still to come leave room.
 */
function balloons({ balloons: given, place, all, h }: Drawn): string {
  const stations = balloonStations(all, h);
  const placed = given.map((entry) => ({ entry, to: place(entry.at) })).toSorted((a, b) => a.to.x - b.to.x);
  const places = placed.length > stations.length ? inRows(placed.length, stations.length) : [];
  let last = -1;
  return placed
    .map(({ entry, to }, index) => {
      const wanted = stations.filter((x) => x < to.x).length;
      last = Math.min(Math.max(wanted, last + 1), stations.length - (placed.length - index));
      const { column, row } = places[index] ?? { column: last, row: 0 };
      const y = all.minY - (1.05 + row * 2) * h;
      return balloon(entry, stations[column] ?? 0, y, to.x, to.y, h);
    })
    .join('');
}

/** More balloons than stations: as many rows as it takes, neighbours above one another. */
function inRows(
  count: number,
  columns: number,
): readonly { readonly column: number; readonly row: number }[] {
  const rows = Math.ceil(count / columns);
  return Array.from({ length: count }, (_none, index) => ({
    column: Math.floor(index / rows),
    row: index % rows,
  }));
}

function balloonStations(all: Bounds, h: number): readonly number[] {
  const gap = 2.4 * BALLOON_RADIUS * h;
  const first = all.minX + 0.42 * (all.maxX - all.minX);
  const count = Math.max(1, Math.floor((all.maxX - first) / gap) + 1);
  return Array.from({ length: count }, (_none, index) => first + index * gap);
}

function balloonRows({ balloons: given, all, h }: Drawn): number {
  return Math.max(1, Math.ceil(given.length / balloonStations(all, h).length));
}

function usedHoles(registration: Registration): ReadonlySet<number> {
  return new Set(
    registration.matches.flatMap((match) => (match.matched && match.hole !== null ? [match.hole] : [])),
  );
}
