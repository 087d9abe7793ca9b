import { regionContains } from '../../../server/engineering/geometry/contains.js';
import type { Point, Region } from '../../../server/engineering/geometry/point.js';

/**
 * What a round cutter reaches of an area, by brute force on a grid: cells whose distance from every cell outside is at
 * least its radius are places for its axis; cells within a radius of such a place are cut.
 */
export function rasterOpening(region: Region, diameterMm: number, stepMm: number): (at: Point) => boolean {
  const all = region.flat();
  const margin = diameterMm;
  const minX = Math.min(...all.map(({ x }) => x)) - margin;
  const minY = Math.min(...all.map(({ y }) => y)) - margin;
  const columns = Math.ceil((Math.max(...all.map(({ x }) => x)) + margin - minX) / stepMm);
  const rows = Math.ceil((Math.max(...all.map(({ y }) => y)) + margin - minY) / stepMm);
  const inside = new Uint8Array(columns * rows);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++)
      if (regionContains(region, { x: minX + (column + 0.5) * stepMm, y: minY + (row + 0.5) * stepMm }))
        inside[row * columns + column] = 1;
  const reach = Math.floor(diameterMm / 2 / stepMm - 0.5);
  const disc: (readonly [number, number])[] = [];
  for (let dy = -reach; dy <= reach; dy++)
    for (let dx = -reach; dx <= reach; dx++) if (dx * dx + dy * dy <= reach * reach) disc.push([dx, dy]);
  const cut = new Uint8Array(columns * rows);
  for (let row = reach; row < rows - reach; row++)
    for (let column = reach; column < columns - reach; column++) {
      if (!disc.every(([dx, dy]) => inside[(row + dy) * columns + column + dx] === 1)) continue;
      for (const [dx, dy] of disc) cut[(row + dy) * columns + column + dx] = 1;
    }
  return ({ x, y }) => cut[Math.floor((y - minY) / stepMm) * columns + Math.floor((x - minX) / stepMm)] === 1;
}
