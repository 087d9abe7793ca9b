import { SafeHtml } from './safe-html.js';

const SIGN = new SafeHtml(
  '<svg class="ps-first-angle" viewBox="0 0 64 28" role="img" aria-label="first angle projection">' +
    '<path class="ps-line" d="M5 9 26 4v20L5 19z"/><circle class="ps-line" cx="47" cy="14" r="10"/>' +
    '<circle class="ps-line" cx="47" cy="14" r="5"/><path class="ps-centre-line" d="M1 14h29M33 14h28M47 1v26"/></svg>',
);

/** The truncated cone of ISO 5456-2 that says how the views of a sheet stand to each other. */
export function firstAngleSign(): SafeHtml {
  return SIGN;
}
