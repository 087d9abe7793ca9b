import { SafeHtml } from './safe-html.js';

const MARK = new SafeHtml(
  '<svg class="ps-mark" viewBox="0 0 28 28" aria-hidden="true" focusable="false">' +
    '<path class="ps-fill-ink" d="M2 2h5v24H2zM17 2h5v9h-5zM17 17h5v9h-5z"/>' +
    '<path class="ps-mark__plate" d="M8.5 6h4v16h-4z"/>' +
    '<path class="ps-fill-key" d="M11 9.5h3.2v9H11z"/>' +
    '<path class="ps-fill-ink" d="M17 13.2 27 12v4l-10-1.2z"/></svg>',
);

/** Two platens, a plate between them, a sprue. The name always stands beside it. */
export function mark(): SafeHtml {
  return MARK;
}
