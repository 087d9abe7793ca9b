import { convexHullOf } from './convex-hull.js';
import type { Region } from './point.js';

/** The sides of a box, mm. */
export interface Box {
  readonly widthMm: number;
  readonly lengthMm: number;
}

/**
 * The narrowest box round a region, whichever way it lies: its width is the least gap of parallel jaws that lets the
 * region pass, its length goes across. The same however the region is turned. Both 0 for an empty one.
 */
export function leastBox(region: Region): Box {
  const hull = convexHullOf(region.flat());
  let widthMm = Number.POSITIVE_INFINITY;
  let lengthMm = 0;
  let a = hull.at(-1);
  for (const b of hull) {
    const size = a ? Math.hypot(b.x - a.x, b.y - a.y) : 0;
    if (a && size > 0) {
      const [ux, uy] = [(b.x - a.x) / size, (b.y - a.y) / size];
      let [across, least, most] = [0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      for (const p of hull) {
        const [dx, dy] = [p.x - a.x, p.y - a.y];
        across = Math.max(across, ux * dy - uy * dx);
        const along = ux * dx + uy * dy;
        least = Math.min(least, along);
        most = Math.max(most, along);
      }
      if (across < widthMm - 1e-9 || (across < widthMm + 1e-9 && most - least < lengthMm)) {
        widthMm = across;
        lengthMm = most - least;
      }
    }
    a = b;
  }
  if (!Number.isFinite(widthMm)) return { widthMm: 0, lengthMm: 0 };
  return { widthMm: Math.min(widthMm, lengthMm), lengthMm: Math.max(widthMm, lengthMm) };
}
