/** All sentences a person reads. One folder per language; English is the only one so far. */
export { wordNotice } from './en/drawing-notices.js';
export { marginText, nameOfCheck, type WordedCure, type WordedFinding, wordFinding } from './en/findings.js';
export { type ReasonWords, titleOfStatus, wordReason } from './en/reasons.js';
export { wordDrawing, wordReport } from './en/report.js';
