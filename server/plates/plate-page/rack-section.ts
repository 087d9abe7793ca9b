import { may } from '../../members/permissions.js';
import { activeNames } from '../../members/store.js';
import { CONDITION_WORDS, conditionText, ownerText, SHARING_WORDS } from '../../words/en/plates.js';
import { momentText } from '../../words/en/times.js';
import { PLATE_CONDITIONS, type Plate } from '../store.js';
import type { PlateOnView } from './plate-on-view.js';

/** What was typed about the rack and refused. */
export interface RackTried {
  readonly place?: string;
  readonly condition?: string;
  readonly conditionNote?: string;
}

/** Whose the plate is, where it lies, how it is, who may see and run it, whether it is used. Data of `plate-rack.hbs`. */
export async function rackSection(seen: PlateOnView, tried: RackTried = {}) {
  const { actor, house, plate, rules } = seen;
  const own = plate.ownerId === actor.memberId;
  const handsOver = may(actor, 'plate-hand-over', plate) && (own || plate.ownerLeft);
  const members = handsOver ? await activeNames(house.database) : [];
  return {
    plateId: plate.id,
    facts: factsOf(plate, rules.timeZone),
    ...(may(actor, 'plate-rack', plate) && { cells: rackCells(plate, tried) }),
    ...(may(actor, 'plate-share', plate) && { sharing: sharingChoices(plate) }),
    ...(handsOver && {
      members: members
        .filter(({ id }) => id !== plate.ownerId)
        .map(({ id, displayName }) => ({ value: id, text: displayName })),
    }),
    ...(may(actor, 'plate-retire', plate) && {
      retire: { value: plate.retiredAt === null ? 'yes' : 'no', again: plate.retiredAt !== null },
    }),
  };
}

function factsOf(plate: Plate, timeZone: string) {
  const { place, retiredAt, sharing } = plate;
  return [
    { label: 'Owner', value: ownerText(plate.ownerName, plate.ownerLeft) },
    { label: 'Lies at', value: place ?? 'not said' },
    { label: 'Condition', value: conditionText(plate.condition, plate.conditionNote) },
    { label: 'Shared with', value: SHARING_WORDS[sharing].text.toLowerCase() },
    ...(retiredAt === null
      ? []
      : [{ label: 'Retired', value: momentText(retiredAt, timeZone), strong: true }]),
  ];
}

function rackCells(plate: Plate, tried: RackTried) {
  const condition = tried.condition ?? plate.condition;
  return {
    place: tried.place ?? plate.place ?? '',
    conditionNote: tried.conditionNote ?? plate.conditionNote ?? '',
    conditions: PLATE_CONDITIONS.map((value) => ({
      value,
      text: CONDITION_WORDS[value],
      selected: value === condition,
    })),
  };
}

function sharingChoices(plate: Plate) {
  return Object.entries(SHARING_WORDS).map(([value, words]) => ({
    id: `sharing-${value}`,
    value,
    ...words,
    checked: value === plate.sharing,
  }));
}
