import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, Finding } from '../finding.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { screwForChange } from './engagement.js';
import { plateWith, upToTenth } from './plate-with.js';
import type { Registration } from './registration-result.js';
import { screwSeats } from './screw-seats.js';
import { faultOf, isMeeting, MEETS_MM, WALL_BASIS, WALL_SOURCE, type Wall } from './wall.js';
import { wallsOfPlate } from './walls-of-plate.js';

interface WallsInput {
  readonly drawing: MeasuredDrawing;
  readonly plate: PlateFacts;
  readonly bolster: BolsterFacts;
  readonly registration: Registration;
}

/** More places than this are not shown. */
const MOST_PLACES = 12;

/**
 * Is there metal enough between the cuts, and between them and the plate's edge, holes, sinks, dowels, water and
 * back? Distances are exact, mm, by depth: a cut no deeper than a sink only meets the sink. Cuts that run into a
 * hole, out of the plate or through its back are a stop, a floor within what stock and milling may be off included;
 * thinner than practice asks is a caution. Vents may run out over the edge.
 */
export function checkWalls(input: WallsInput): Finding {
  const { drawing, plate, bolster, registration } = input;
  const walls = wallsOfPlate(drawing, plate, screwSeats(drawing, plate, bolster, registration));
  const worst = walls.reduce<Wall | null>(
    (worst, wall) => (worst === null || isWorse(wall, worst) ? wall : worst),
    null,
  );
  if (worst === null) throw new RangeError('a plate without a cut');
  const failing = walls
    .filter((wall) => faultOf(wall) !== null)
    .sort((one, other) => (isWorse(one, other) ? -1 : 1));
  const fault = faultOf(worst);
  const meets = fault === 'stop';
  return {
    check: 'walls',
    verdict: fault ?? 'clear',
    situation: situationOf(worst),
    figure: worst.leftMm,
    limit: worst.limitMm,
    allowed: 'at-least',
    unit: 'mm',
    margin: worst.leftMm - worst.limitMm,
    figures: {
      of: worst.of,
      to: worst.to,
      leftMm: worst.leftMm,
      depthMm: worst.depthMm,
      thicknessMm: plate.thicknessMm,
      failing: failing.length,
    },
    places: placesOf(failing),
    cures: fault === null ? [] : curesFor(input, worst, failing),
    source: meets ? sourceOfStop(worst) : WALL_SOURCE,
    basis: meets ? 'computed' : WALL_BASIS,
  };
}

function sourceOfStop({ leftMm }: Wall): string {
  return leftMm < MEETS_MM
    ? 'geometry of the cuts'
    : `geometry of the cuts; what stock and milling may be off: ${WALL_SOURCE}`;
}

function situationOf(worst: Wall): string {
  const fault = faultOf(worst);
  if (fault === null) return 'enough';
  if (fault === 'caution' && isMeeting(worst))
    return worst.of === 'water' ? 'water-open-at-back' : 'sink-over-edge';
  if (fault === 'caution' && worst.of === 'water') return 'water-near';
  if (fault === 'caution') return worst.to === 'back' ? 'thin-floor' : 'thin-wall';
  if (worst.to === 'back') return worst.leftMm < MEETS_MM ? 'through-floor' : 'no-floor-left';
  if (worst.to === 'edge' || worst.to === 'opening') return 'out-of-plate';
  return worst.of === 'water' ? 'into-water' : 'into-hole';
}

/** Stops before cautions before the rest; within each the one with the least to spare. */
function isWorse(one: Wall, other: Wall): boolean {
  const rank = (wall: Wall) => ({ stop: 0, caution: 1, none: 2 })[faultOf(wall) ?? 'none'];
  if (rank(one) !== rank(other)) return rank(one) < rank(other);
  return one.leftMm - one.limitMm < other.leftMm - other.limitMm - 1e-9;
}

function placesOf(failing: readonly Wall[]): Finding['places'] {
  const places: { readonly x: number; readonly y: number }[] = [];
  for (const { at } of failing) {
    if (places.length < MOST_PLACES && places.every(({ x, y }) => Math.hypot(x - at.x, y - at.y) > 1))
      places.push(at);
  }
  return places;
}

/** A bore at another depth; a thicker plate where the floor is thin; else more metal, and which way the cut has to go. */
function curesFor(input: WallsInput, worst: Wall, failing: readonly Wall[]): readonly Cure[] {
  const bore = boreElsewhere(input, worst);
  if (bore !== null) return [bore];
  if (worst.to === 'back' && failing.every(({ to }) => to === 'back')) return [thickerPlate(input, failing)];
  if (worst.to === 'back')
    return [thickerPlate(input, failing), apart(failing.find(({ to }) => to !== 'back') ?? worst)];
  return [apart(worst)];
}

/** Another depth for a bore that lies beneath or above what it is too near to, tried: no wall of it is then too thin. */
function boreElsewhere(input: WallsInput, { bore, at, otherAt, depthMm }: Wall): Cure | null {
  if (bore === null || Math.hypot(at.x - otherAt.x, at.y - otherAt.y) > 1e-6) return null;
  const { drawing, plate, bolster, registration } = input;
  const water = drawing.water.map((channel, index) =>
    index === bore.channel ? { ...channel, depthMm: bore.depthMm } : channel,
  );
  const seats = screwSeats(drawing, plate, bolster, registration);
  const walls = wallsOfPlate({ ...drawing, water }, plate, seats);
  if (walls.some((wall) => wall.of === 'water' && faultOf(wall) !== null)) return null;
  const code = bore.depthMm > depthMm ? 'deeper-bore' : 'shallower-bore';
  return { code, amount: bore.depthMm, unit: 'mm', figures: { nowMm: depthMm }, at };
}

/** Thick enough for every thin floor; the screws then bridge more. */
function thickerPlate({ drawing, plate, bolster, registration }: WallsInput, failing: readonly Wall[]): Cure {
  const missing = failing.filter(({ to }) => to === 'back').map(({ leftMm, limitMm }) => limitMm - leftMm);
  const thicknessMm = upToTenth(plate.thicknessMm + Math.max(...missing));
  const changed = plateWith(plate, { thicknessMm });
  const fit = screwForChange(screwSeats(drawing, changed, bolster, registration), changed, bolster);
  const other = fit !== null && fit.lengthMm !== plate.screw.lengthMm;
  return {
    code: 'thicker-plate',
    amount: thicknessMm,
    unit: 'mm',
    figures: {
      screwSize: plate.screw.size,
      screws:
        drawing.bolts.length === 0 ? 'none' : fit === null ? 'no-length' : other ? 'other-length' : 'as-now',
      ...(fit !== null && { screwLengthMm: fit.lengthMm, engagedMm: fit.engagedMm }),
    },
    change: { thicknessMm, ...(other && { screwLengthMm: fit.lengthMm }) },
  };
}

/** How much farther apart, along the line between the two; no direction where they only touch at a place. */
function apart(wall: Wall): Cure {
  const missingMm = upToTenth(Math.max(0.1, wall.limitMm - wall.leftMm));
  const [x, y] = [wall.at.x - wall.otherAt.x, wall.at.y - wall.otherAt.y];
  const far = Math.hypot(x, y);
  const along = (part: number) => (far < 1e-9 ? 0 : (part * missingMm) / far + 0);
  return {
    code: wall.to === 'edge' || wall.to === 'opening' ? 'move-inwards' : 'move-apart',
    amount: missingMm,
    unit: 'mm',
    figures: { of: wall.of, to: wall.to, dxMm: along(x), dyMm: along(y) },
    at: wall.at,
  };
}
