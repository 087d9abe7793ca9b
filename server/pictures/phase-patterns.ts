import type { SafeHtml } from './safe-html.js';
import { box, fixed, path, svg } from './svg.js';
import type { PhaseKind } from './time-line.js';

/**
 * Pattern definitions for the phases that have one; ids carry the picture's prefix, since a page may hold several
 * pictures. Dry waves, mount upright lines, purge slanted lines, settle dots, granulate small triangles.
 */
export function phasePatterns(prefix: string): string {
  const pattern = (kind: PhaseKind, width: number, height: number, content: string) =>
    `<pattern id="${prefix}-${kind}" width="${width}" height="${height}" patternUnits="userSpaceOnUse">${content}</pattern>`;
  return `<defs>${[
    pattern('dry', 8, 5, '<path class="ps-phase-line" d="M0 2.5c1.5-2.6 2.5-2.6 4 0s2.5 2.6 4 0"/>'),
    pattern('mount', 4, 8, '<path class="ps-phase-line" d="M2 0v8"/>'),
    pattern('purge', 6, 6, '<path class="ps-phase-line" d="M-1 7 7-1M-1 1 1-1M5 7 7 5"/>'),
    pattern('settle', 5, 5, '<circle class="ps-phase-dot" cx="2.5" cy="2.5" r=".75"/>'),
    pattern('granulate', 6, 6, '<path class="ps-phase-dot" d="M3 1.3 4.8 4.7H1.2z"/>'),
  ].join('')}</defs>`;
}

/** One phase in a box. Wedges rise (warming up) or fall (dismounting) along `axis`, the way time runs. */
export function phaseBox(
  prefix: string,
  kind: PhaseKind,
  x: number,
  y: number,
  width: number,
  height: number,
  axis: 'x' | 'y' = 'x',
): string {
  const ground = box(kind === 'run' ? 'ps-phase-run' : 'ps-phase', x, y, x + width, y + height);
  if (kind === 'run') return ground;
  if (kind === 'warm-up' || kind === 'dismount-and-clean')
    return ground + path('ps-phase-wedge', wedge(kind === 'warm-up', x, y, width, height, axis));
  return `${ground}<rect x="${fixed(x)}" y="${fixed(y)}" width="${fixed(width)}" height="${fixed(height)}" fill="url(#${prefix}-${kind})"/>`;
}

function wedge(
  rising: boolean,
  x: number,
  y: number,
  width: number,
  height: number,
  axis: 'x' | 'y',
): string {
  const left = fixed(x);
  const right = fixed(x + width);
  const top = fixed(y);
  const bottom = fixed(y + height);
  if (axis === 'y')
    return rising
      ? `M${left} ${top}L${right} ${bottom}H${left}z`
      : `M${left} ${top}H${right}L${left} ${bottom}z`;
  return rising
    ? `M${left} ${bottom}L${right} ${top}V${bottom}z`
    : `M${left} ${top}L${right} ${bottom}H${left}z`;
}

/** A phase's swatch for the key below a time line. */
export function phaseSwatch(kind: PhaseKind, prefix = `key-${kind}`): SafeHtml {
  return svg(
    { frame: { x: 0, y: 0, width: 28, height: 16 }, className: 'ps-key__swatch', label: null },
    phasePatterns(prefix) + phaseBox(prefix, kind, 0.75, 0.75, 26.5, 14.5),
  );
}
