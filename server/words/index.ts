/** All sentences a person reads. One folder per language; English is the only one so far. */
export { wordNotice } from './en/drawing-notices.js';
export { marginText, wordFinding } from './en/findings.js';
export { titleOfStatus, wordReason } from './en/reasons.js';
export { wordDrawing, wordReport } from './en/report.js';
