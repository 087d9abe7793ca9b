import type { Verdict } from '../engineering/finding.js';
import { SafeHtml } from './safe-html.js';

/**
 * Drawn on a grid of 20 by 20: a hole (it goes through), a half cut, solid metal, a hidden edge.
 * They tell themselves apart in grey print and to any eye.
 */
const DRAWING_OF: Readonly<Record<Verdict, string>> = {
  clear: '<circle cx="10" cy="10" r="7" fill="none" stroke="currentColor" stroke-width="2"/>',
  caution:
    '<path d="M10 1.4 18.6 10 10 18.6 1.4 10z" fill="none" stroke="currentColor" stroke-width="1.9"/>' +
    '<path d="M1.4 10h17.2L10 18.6z" fill="currentColor"/>',
  stop: '<path d="M2.5 2.5h15v15h-15z" fill="currentColor"/>',
  unknown:
    '<path d="M2.5 6.5v-4h4M13.5 2.5h4v4M17.5 13.5v4h-4M6.5 17.5h-4v-4" fill="none" stroke="currentColor" stroke-width="1.9"/>' +
    '<path d="M7.4 8.2c0-3.4 5.2-3.4 5.2-.3 0 1.7-2.6 2-2.6 3.9" fill="none" stroke="currentColor" stroke-width="1.7"/>' +
    '<circle cx="10" cy="14.2" r="1.15" fill="currentColor"/>',
};

/** The shape of a verdict. Its word always stands beside it, so the shape itself is silent. */
export function verdictShape(verdict: Verdict, large = false): SafeHtml {
  const className = large ? 'ps-shape ps-shape--large' : 'ps-shape';
  return new SafeHtml(
    `<svg class="${className}" viewBox="0 0 20 20" aria-hidden="true" focusable="false">${DRAWING_OF[verdict]}</svg>`,
  );
}
