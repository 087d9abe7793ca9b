import type { Finding } from '../finding.js';
import { needsDrying } from './needs-drying.js';
import type { Drying, Polymer } from './polymer.js';

/**
 * Drying: whether the resin must go through an oven before it is moulded, how hot, how long and how deep in the tray.
 * That it must be dried is no fault of the plate: clear, with hours and heat; doing it is a matter of each run. Unknown
 * where nobody has said how. Temperatures deg C, times h. The hours are those of a dryer with dried air; an oven that
 * blows the room's own air takes `airOvenFactor` times as long.
 */
export function checkDrying(polymer: Polymer): Finding {
  const { drying } = polymer;
  if (drying === null) return unknownDrying(polymer);
  const isNeeded = needsDrying(polymer);
  const { hours, temperatureC } = drying;
  const origin = isNeeded ? hours : drying.neededOrigin;
  return {
    check: 'drying',
    verdict: 'clear',
    situation: isNeeded ? 'dry-first' : 'not-needed',
    figure: isNeeded ? hours.usual : null,
    limit: isNeeded ? { min: hours.min, max: null } : null,
    allowed: isNeeded ? 'at-least' : null,
    unit: 'h',
    margin: null,
    figures: {
      polymer: polymer.symbol,
      temperatureMinC: temperatureC.min,
      temperatureMaxC: temperatureC.max,
      temperatureUsualC: temperatureC.usual,
      hoursMin: hours.min,
      hoursMax: hours.max,
      trayDepthMm: drying.trayDepthMm.value,
      moistureMaxPercent: drying.moistureMaxPercent.value,
      freshBagIsDry: drying.freshBagIsDry ? 'yes' : 'no',
      ...airOven(drying),
      ...stay(drying),
    },
    places: [],
    cures: [],
    source: `drying of ${polymer.symbol}: ${origin.source}`,
    basis: origin.basis,
  };
}

function airOven({ airOvenFactor, hours }: Drying) {
  if (airOvenFactor === null) return {};
  return { airHoursMin: hours.min * airOvenFactor.min, airHoursMax: hours.max * airOvenFactor.max };
}

function stay({ sealedUntilHours, openMinutes }: Drying) {
  return {
    ...(sealedUntilHours !== null && { sealedUntilHours: sealedUntilHours.value }),
    ...(openMinutes !== null && { openMinutes: openMinutes.value }),
  };
}

function unknownDrying({ symbol }: Polymer): Finding {
  return {
    check: 'drying',
    verdict: 'unknown',
    situation: 'not-known',
    figure: null,
    limit: null,
    allowed: null,
    unit: 'h',
    margin: null,
    figures: { polymer: symbol, missing: 'drying' },
    places: [],
    cures: [],
    source: 'common practice, no source',
    basis: 'practice',
  };
}
