import { POLYMERS } from '../../engineering/polymers/polymers.js';
import { summaryOfRefusal } from '../../http/form.js';
import type { Refusal } from '../../reasons.js';
import type { PlateOnView } from './plate-on-view.js';

/** The resin chosen and what its report says, or why there is none. Data of `plate-report.hbs`. */
export function reportSection(
  { plate, revision, polymer, report }: PlateOnView,
  noReport: Refusal | undefined,
) {
  return {
    plateId: plate.id,
    revision: revision.revision,
    result: report?.result,
    noReport: noReport === undefined ? [] : summaryOfRefusal(noReport).items,
    polymers: POLYMERS.map(({ symbol, name }) => ({
      value: symbol,
      text: `${symbol}, ${name}`,
      selected: symbol === polymer,
    })),
  };
}
