import type { HouseReasonCode, Reason } from '../../reasons.js';
import type { ReasonWords } from './drawing-reasons.js';

/** ` at x 80, y 60 mm`; lengths of a table stand as they were given. */
function where({ place }: Reason): string {
  return place?.xMm === undefined || place.yMm === undefined
    ? ''
    : ` at x ${figureText(place.xMm)}, y ${figureText(place.yMm)} mm`;
}

function figureText(value: number | string): string {
  return typeof value === 'number' && value < 0 ? `−${Math.abs(value)}` : String(value);
}

function figure({ figures }: Reason, name: string, otherwise = ''): string {
  const value = figures?.[name];
  return value === undefined ? otherwise : figureText(value);
}

function thread(reason: Reason): string {
  return figure(reason, 'thread') === '' ? '' : `${figure(reason, 'thread')} `;
}

/** ` 12 mm` after `before`, where the figure is known; nothing otherwise. */
function known(reason: Reason, name: string, before: string, after: string): string {
  const value = figure(reason, name);
  return value === '' ? '' : `${before}${value}${after}`;
}

/** ` from … until …`, where both are known. */
function span(reason: Reason): string {
  const [from, until] = [figure(reason, 'from'), figure(reason, 'until')];
  return from === '' || until === '' ? '' : ` from ${from} until ${until}`;
}

/** Why press, bolster and stock are not kept as somebody wants. */
export const PRESS_REASONS = {
  'bolster-no-holes': () => ({
    message: 'The bolster has no tapped hole, so no plate could be screwed to it.',
    fix: 'Give its holes: as a table, as a grid, or from a drawing with circles on the layer BOLT.',
  }),
  'bolster-hole-off-face': (reason) => ({
    message: `The ${thread(reason)}hole${where(reason)} reaches ${figure(reason, 'mm', 'a little')} mm over the edge of the face.`,
    fix: 'Correct its place, or the size and the middle of the face.',
  }),
  'bolster-hole-in-opening': (reason) => ({
    message: `The ${thread(reason)}hole${where(reason)} runs into an opening in the face.`,
    fix: 'Correct its place, or the opening; a hole that is broken into holds no screw and is left out.',
  }),
  'bolster-hole-too-deep': (reason) => ({
    message: `The ${thread(reason)}hole${where(reason)} is tapped deeper than the moving half is thick${known(reason, 'depthMm', ': ', ' mm')}${known(reason, 'halfMm', ' against ', ' mm')}.`,
    fix: 'Correct the tapped depth or the thickness of the half.',
  }),
  'bolster-hole-twice': (reason) => ({
    message: `There are two holes${where(reason)}.`,
    fix: 'Take one of the two lines out.',
  }),
  'bolster-holes-overlap': (reason) => ({
    message: `The hole${where(reason)} and ${figure(reason, 'otherXMm') === '' ? 'another one' : `the one at x ${figure(reason, 'otherXMm')}, y ${figure(reason, 'otherYMm')} mm`} run into each other${known(reason, 'apartMm', ': they are only ', ' mm apart')}.`,
    fix: 'Correct the place or the thread of one of the two.',
  }),
  'bolster-opening-open': () => ({
    message: 'An opening in the face has fewer than three corners.',
    fix: 'Give a circle, a rectangle, or an outline of three corners and more.',
  }),
  'bolster-opening-crosses': (reason) => ({
    message: `The outline of an opening crosses itself${where(reason)}.`,
    fix: 'Give its corners in the order in which they lie along the edge.',
  }),
  'bolster-opening-off-face': (reason) => ({
    message: `The opening${where(reason)} reaches over the edge of the face.`,
    fix: 'Correct its place or size; where it breaks through the edge, end it at the edge.',
  }),
  'bolster-stack-backwards': (reason) => ({
    message: `The largest stack${known(reason, 'largestStackMm', ', ', ' mm,')} is not more than the minimum daylight${known(reason, 'minimumDaylightMm', ', ', ' mm')}.`,
    fix: 'Measure both again: closer than the minimum daylight the faces cannot come.',
  }),
  'bolster-sprue-narrows': () => ({
    message: 'The sprue narrows towards the parting face, so it could not be pulled out.',
    fix: 'Give at least its diameter at the nozzle.',
  }),
  'bolster-sprue-off-face': () => ({
    message: 'The sprue does not meet the face.',
    fix: 'Places are counted from the sprue axis: correct the middle of the face, or its size.',
  }),
  'bolster-name-taken': (reason) => ({
    message: `There is a bolster called ${figure(reason, 'name', 'like that')} already.`,
    fix: 'Choose a name that can be told apart on the floor.',
  }),
  'bolster-mounted-already': (reason) => ({
    message: `${figure(reason, 'name', 'That bolster')} is in the press already.`,
    fix: 'Choose another one.',
  }),
  'press-clamp-backwards': (reason) => ({
    message: `The highest clamp force${known(reason, 'maxKn', ', ', ' kN,')} is not more than the least${known(reason, 'minKn', ', ', ' kN')}.`,
    fix: 'Read both off the machine’s plate or manual.',
  }),
  'version-unchanged': () => ({
    message: 'Nothing would change: it already says all of this.',
    fix: 'Change at least one figure, or leave it as it is.',
  }),
  'outage-backwards': () => ({
    message: 'The time out of service ends before it starts, or takes no time.',
    fix: 'Choose an end after the start.',
  }),
  'outage-in-the-past': () => ({
    message: 'The time out of service would start in the past.',
    fix: 'Let it start now, or later.',
  }),
  'outage-too-far-ahead': (reason) => ({
    message: `The time out of service ends too far ahead${known(reason, 'maxDays', ': at most ', ' days')}.`,
    fix: 'Choose an earlier end; it can be taken out again.',
  }),
  'outage-overlaps': (reason) => ({
    message: `${figure(reason, 'what', 'It')} is out of service already${span(reason)}.`,
    fix: 'Choose a time beside that one, or put it back in service first.',
  }),
  'outage-already-over': () => ({
    message: 'That time out of service is over, or it has been put back already.',
    fix: 'Look at what is out of service now.',
  }),
  'inspection-not-yet': () => ({
    message: 'The day of the inspection is not one that has come.',
    fix: 'Give the day on which it was inspected.',
  }),
  'stack-part-absurd': (reason) => ({
    message: `It cannot be out of parallel by as much as it is thick${known(reason, 'thicknessMm', ', ', ' mm')}.`,
    fix: 'Give the largest less the smallest thickness over its face, in millimetres.',
  }),
  'stack-part-name-taken': () => ({
    message: 'A facing plate or packer in service has that name already.',
    fix: 'Give it a name that can be told apart on the rack.',
  }),
} as const satisfies { readonly [code in HouseReasonCode]?: (reason: Reason) => ReasonWords };
