import { guardDoubleSubmit } from './double-submit.js';
import { enhanceDropZones } from './drop-zone.js';
import { focusErrorSummary } from './error-summary.js';
import { pickPlaces } from './pick-place.js';
import { redrawWhileTyping } from './redraw.js';

// Every page works without any of this.
focusErrorSummary(document);
enhanceDropZones(document);
guardDoubleSubmit(document);
redrawWhileTyping(document);
pickPlaces(document);
