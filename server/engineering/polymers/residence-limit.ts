import type { Polymer } from './polymer.js';

/**
 * The longest stay of the melt in the barrel at a melt temperature, minutes. Between published points along a
 * straight line of log time over temperature, as a reaction that doubles every so many degrees gives; outside them
 * the nearest point. A limit said without a temperature holds at every one.
 */
export function residenceLimitMin(
  { residence: { points } }: Pick<Polymer, 'residence'>,
  meltC: number,
): number {
  let colder = points[0];
  for (const point of points) {
    if (point.meltC === null || colder.meltC === null) return colder.minutes;
    if (meltC <= point.meltC) return between(colder.meltC, colder.minutes, point.meltC, point.minutes, meltC);
    colder = point;
  }
  return colder.minutes;
}

function between(fromC: number, fromMin: number, toC: number, toMin: number, atC: number): number {
  if (toC === fromC || atC <= fromC) return fromMin;
  return fromMin * (toMin / fromMin) ** ((atC - fromC) / (toC - fromC));
}
